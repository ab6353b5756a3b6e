def test_shop_and_owner_need_no_more_than_a_name(good, read):
    good["shop"] = {"name": "Bench (invented)"}
    good["owner"] = {"name": "Owner (invented)"}
    good["received"] = {"date": "2026-11-02"}
    record = read(good)
    assert (record.shop.address, record.shop.method, record.owner.address) == ((), None, ())
    assert record.received.enclosed == ()


def test_a_condition_may_run_over_several_lines(good, read):
    good["received"]["condition"] = "scratched case\ndry inside"
    assert read(good).received.condition == "scratched case\ndry inside"


def test_names_keep_the_letters_of_every_language(good, read):
    good["owner"]["name"] = "Šířková & Ødegård 暖房 (invented)"
    assert read(good).owner.name == "Šířková & Ødegård 暖房 (invented)"
