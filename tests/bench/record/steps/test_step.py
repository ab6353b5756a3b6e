import pytest


@pytest.mark.parametrize("feed", ["tip", "handle", "hose", "after-trap", "instrument"])
@pytest.mark.parametrize("probe", ["owner", "shop", None])
def test_gas_may_go_in_at_every_place_through_either_probe(feed, probe, good, read):
    good["steps"][2]["path"] = {"feed": feed, "probe": probe}
    path = read(good).steps[2].path
    assert (path.feed, path.probe) == (feed, probe)


def test_how_the_gas_was_offered_may_stay_unknown(good, read):
    del good["steps"][2]["feed"]
    assert read(good).steps[2].feed is None
    good["steps"][2]["feed"] = {}
    assert read(good).steps[2].feed.vent_open is None
