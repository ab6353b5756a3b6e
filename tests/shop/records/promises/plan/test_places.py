"""Stations that can do several kinds of work, in the words of the plan."""

from itertools import combinations_with_replacement, product

from flueproof.shop.records.promises.plan.places import classes_of

ALL = frozenset({"gas", "temperature", "draft"})
GAS = frozenset({"gas"})


def test_stations_that_can_all_do_everything_are_one_class():
    classes = classes_of({"A": ALL, "B": ALL})
    assert classes.of_station == {"A": {"bench"}, "B": {"bench"}}
    assert set(classes.of_kind.values()) == {"bench"}


def test_a_station_for_several_kinds_is_there_for_each_of_them():
    classes = classes_of({"A": GAS, "B": GAS | {"draft"}, "C": frozenset({"temperature"})})
    assert classes.of_station == {"A": {"gas"}, "B": {"gas", "draft"}, "C": {"temperature"}}
    assert classes.of_kind == {"gas": "gas", "draft": "draft", "temperature": "temperature"}


def test_kinds_that_the_same_stations_can_do_are_one_class_so_that_an_analyzer_stays():
    classes = classes_of({"A": ALL, "B": GAS})
    assert classes.of_kind["temperature"] == classes.of_kind["draft"] != classes.of_kind["gas"]
    assert classes.of_station["A"] == set(classes.of_kind.values())


def test_each_kind_can_be_done_just_where_the_shop_says_whatever_the_stations():
    """All shops of up to three stations with any kinds each."""
    sets = [
        frozenset(kind for kind, on in zip(sorted(ALL), mask, strict=True) if on) for mask in product((0, 1), repeat=3)
    ]
    for count in (1, 2, 3):
        for chosen in combinations_with_replacement(sets, count):
            stations = {f"S{place}": kinds for place, kinds in enumerate(chosen)}
            classes = classes_of(stations)
            assert set(classes.of_kind) == frozenset().union(*chosen)
            for kind, of in classes.of_kind.items():
                able = {name for name, mine in classes.of_station.items() if of in mine}
                assert able == {name for name, kinds in stations.items() if kind in kinds}, (stations, kind)


def test_a_shop_without_stations_has_no_class():
    assert classes_of({}) == ({}, {})
    assert classes_of({"A": frozenset()}) == ({}, {})
