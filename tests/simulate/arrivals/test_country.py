from flueproof.simulate.arrivals.country import Country
from flueproof.simulate.arrivals.naming import Names


def test_a_postcode_belongs_to_one_town_and_begins_with_its_area(chance):
    country = Country(chance(1), 2500)
    codes = [code for town in country.towns for code in town.postcodes]
    assert len(set(codes)) == len(codes)
    assert all(code.startswith(town.area) for town in country.towns for code in town.postcodes)


def test_mail_of_several_areas_is_sorted_in_one_town(chance):
    country = Country(chance(2), 100_000)
    sorting = {}
    for town in country.towns:
        sorting.setdefault(town.sorting, set()).add(town.area)
    assert max(len(areas) for areas in sorting.values()) in {2, 3}


def test_a_place_lies_in_its_town_and_a_neighbor_in_the_area(chance):
    country = Country(chance(3), 2500)
    names = Names(chance(3), 50)
    town = country.town()
    assert country.town_of(country.place(town, names)) == town
    assert country.neighbor(town).area == town.area
