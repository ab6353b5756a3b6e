"""Stations that can do several kinds of work, in classes for the plan."""

from flueproof.shop.records.promises.plan.places import classes_of

ALL = frozenset({"gas", "temperature", "draft"})


def test_stations_that_can_all_do_everything_are_one_class():
    classes = classes_of({"A": ALL, "B": ALL})
    assert set(classes.of_station.values()) == set(classes.of_kind.values()) == {"bench"}


def test_a_station_of_its_own_kind_leaves_the_others_to_the_rest():
    classes = classes_of({"A": frozenset({"gas"}), "B": frozenset({"gas", "draft"}), "C": frozenset({"temperature"})})
    assert classes.of_station == {"A": "gas", "B": "draft", "C": "temperature"}
    assert classes.of_kind == {"gas": "gas", "draft": "draft", "temperature": "temperature"}


def test_kinds_that_only_one_station_can_do_share_its_class():
    classes = classes_of({"A": ALL, "B": frozenset({"gas"})})
    for kind in ALL:
        able = [name for name, of in classes.of_station.items() if of == classes.of_kind[kind]]
        assert able
        assert all(kind in {"A": ALL, "B": {"gas"}}[name] for name in able)


def test_nothing_is_planned_where_it_cannot_be_done_whatever_the_stations():
    """All shops of up to three stations with any kinds each."""
    from itertools import combinations_with_replacement, product

    sets = [
        frozenset(kind for kind, on in zip(sorted(ALL), mask, strict=True) if on) for mask in product((0, 1), repeat=3)
    ]
    for count in (1, 2, 3):
        for chosen in combinations_with_replacement(sets, count):
            stations = {f"S{place}": kinds for place, kinds in enumerate(chosen)}
            classes = classes_of(stations)
            for kind in frozenset().union(*chosen):
                able = [name for name, of in classes.of_station.items() if of == classes.of_kind[kind]]
                assert able, (stations, kind)
                assert all(kind in stations[name] for name in able), (stations, classes, kind)


def test_a_shop_without_stations_has_no_class():
    assert classes_of({}) == ({}, {})
    assert classes_of({"A": frozenset()}) == ({}, {})
