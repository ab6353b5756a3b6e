import pytest

from flueproof.simulate.arrivals.filing import World
from flueproof.simulate.arrivals.sending import sender_seen


@pytest.fixture(scope="module")
def boxes():
    world = World(300, 9)
    firm = max(world.file.owners, key=lambda owner: (bool(owner.emails), len(owner.people)))
    return firm, [sender_seen(world, firm) for _ in range(1500)]


def test_the_name_is_often_right_and_often_not(boxes):
    firm, seen = boxes
    named = [box.name for box in seen if box.name]
    assert 0.3 < sum(name == firm.name for name in named) / len(named) < 0.65
    assert set(firm.people) & set(named)


def test_the_postmark_is_often_that_of_another_town(boxes):
    _, seen = boxes
    marks = [box.postmark for box in seen if box.postmark]
    assert len(set(marks)) > 3


def test_phone_and_mail_are_sometimes_not_on_file(boxes):
    firm, seen = boxes
    mails = {box.email for box in seen if box.email}
    assert set(firm.emails) & mails
    assert mails - set(firm.emails)
    phones = [box.phone for box in seen if box.phone]
    assert any(phone not in firm.phones for phone in phones)


def test_without_a_label_neither_name_nor_address_is_there(boxes):
    _, seen = boxes
    bare = [box for box in seen if not (box.name or box.street or box.postcode or box.town)]
    assert 0.05 < len(bare) / len(seen) < 0.15
