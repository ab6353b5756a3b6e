import pytest

from flueproof.intake.assumptions import DEFAULT
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.weighing.contacts import MailCounts, PhoneGround, weigh_email, weigh_phone

VALE = OwnerOnFile(
    "vale", ("Vale Mechanical",), ("Ada Vale",), ("015-200-4417",), ("ada@vale.example", "office@post.example")
)


def phone(text, area=0.05, exchange=0.01):
    return weigh_phone(text, VALE, PhoneGround(exchange, area), DEFAULT).weight


def test_a_whole_number_weighs_more_than_a_part_and_a_part_more_than_a_slip_less():
    assert phone("(015) 200 4417") > phone("2004417"[-5:]) > phone("4417") > 2
    assert phone("015-200-4477") > 3


def test_a_number_not_on_file_from_the_same_exchange_is_better_than_from_elsewhere():
    assert phone("015-999-0000") > 0 > phone("199-999-0000")
    assert phone("015-999-0000", area=None) < 0


def test_a_number_says_less_where_many_have_one_of_its_exchange():
    """Ten thousand numbers are in an exchange: among thousands of owners two may have one nearly the same."""
    rare, usual = phone("015-200-4417", exchange=0.0005), phone("015-200-4417", exchange=0.2)
    assert rare > usual + 3
    assert phone("015-200-4417", area=None, exchange=0.0005) < usual
    assert phone("015-200-4427", exchange=0.2) < 4 < phone("015-200-4427", exchange=0.001)
    assert phone("4417", area=None, exchange=None) <= phone("4417", area=0.001, exchange=None)


def test_two_digits_say_nothing():
    assert weigh_phone("17", VALE, PhoneGround(None, None), DEFAULT) is None
    assert weigh_phone("015-200-4417", OwnerOnFile("x", ("X",)), PhoneGround(0.01, None), DEFAULT) is None


def mail(text, owner=VALE, domain=1, address=1, *, name="Ada Reed"):
    return weigh_email(text, owner, MailCounts(domain, address), 700, DEFAULT, name=name)


def test_an_address_on_file_is_strong_unless_many_share_its_like():
    assert mail("ADA@vale.example").weight > 6
    assert 0 < mail("office@post.example", domain=90, address=8).weight < 5


def test_another_person_at_the_firms_domain_speaks_for_it():
    assert mail("lev@vale.example").weight > 4
    assert 0 < mail("lev@post.example", domain=90).weight < 2


def test_a_domain_like_the_name_counts_most_where_no_name_was_read():
    bare = OwnerOnFile("v", ("Vale Mechanical",))
    alone, with_name = (mail("a@valemechanical.example", bare, 0, 0, name=name).weight for name in ("", "Ada Reed"))
    assert alone > with_name > 1
    assert mail("a@quilford.example", bare, 0, 0).weight < 0


def test_a_domain_made_of_the_name_on_the_label_says_nothing_more():
    bare = OwnerOnFile("v", ("Vale Mechanical Inc.",))
    assert mail("a@valemechanical.example", bare, 0, 0, name="Vale Mechanical").weight == 0


def test_a_domain_of_somebody_elses_own_says_more_against_than_a_provider_of_many():
    assert mail("lev@quilford.example", domain=0).weight < mail("lev@letters.example", domain=90).weight < 0


@pytest.mark.parametrize("text", ["", "no at sign", "a@"])
def test_what_is_no_address_says_nothing(text):
    assert mail(text) is None
