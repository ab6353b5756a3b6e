import collections

from flueproof.simulate.arrivals.naming import Names


def test_some_surnames_are_frequent_and_most_are_rare(chance):
    names = Names(chance(1), 500)
    counts = collections.Counter(names.surname() for _ in range(4000)).most_common()
    assert counts[0][1] > 15 * counts[len(counts) // 2][1]
    assert len(counts) > 250


def test_a_firm_may_carry_its_founder_or_its_town(chance):
    names = Names(chance(2), 200)
    firms = [names.firm("Harford Mills") for _ in range(300)]
    assert any(surname in name for name, surname in firms)
    assert any(name.startswith("Harford Mills") for name, _ in firms)
