"""A letter is written in the words in force, into the outbox, and never breaks what it is about."""

import datetime as dt

import pytest
from django.db import transaction

from flueproof.shop.records.mailing.kinds import kinds
from flueproof.shop.records.mailing.writing import write_letter
from flueproof.shop.records.models import AnswerLink, JobMoment, Letter, LetterTemplate, OwnerContact


def test_a_letter_waits_in_the_outbox_and_the_job_remembers_it(bench, job, people, now):
    letter = write_letter("ready", job=job, by=people["signer"], now=now)
    assert (letter.state, letter.to, letter.owner, letter.made_by) == (
        "waiting",
        "ada@tidewater.example",
        job.owner,
        people["signer"],
    )
    assert letter.next_try_at == now
    (moment,) = job.moments.filter(what="letter")
    assert (moment.by, moment.at) == (people["signer"], now)
    assert "to ada@tidewater.example" in moment.text


def test_every_kind_says_who_writes_and_where_to_call(bench, job, now):
    extra = {"subject": "x", "words": "y", "due": "1 May 2027"}
    for kind in kinds():
        letter = write_letter(kind, job=job, to="ada@tidewater.example", now=now, extra=extra)
        assert "555-0199" in letter.text, kind
        assert "1 Harrow Lane\nPort Alder" in letter.text, kind
        assert "Harrow Lane Test Bench (invented)" in letter.text, kind
        assert "{" not in letter.text + letter.subject, kind


def test_what_the_caller_rolls_back_leaves_no_letter(bench, job, now):
    with transaction.atomic():
        write_letter("ready", job=job, now=now)
        transaction.set_rollback(True)
    assert not Letter.objects.exists()
    assert not JobMoment.objects.exists()


def test_a_second_press_writes_the_letter_once(bench, job, now):
    extra = {"subject": "x", "words": "y"}
    first = write_letter("letter", job=job, now=now, extra=extra)
    assert write_letter("letter", job=job, now=now + dt.timedelta(seconds=5), extra=extra) == first
    assert write_letter("letter", job=job, now=now + dt.timedelta(minutes=2), extra=extra) != first


def test_who_wants_no_e_mail_gets_none_and_the_counter_sees_why(bench, job, now):
    job.owner.no_letters = True
    job.owner.save()
    assert write_letter("ready", job=job, now=now) is None
    assert "wants no e-mail" in job.moments.get(what="letter").text
    assert not AnswerLink.objects.exists()


def test_who_asks_to_confirm_an_address_gets_that_letter_all_the_same(bench, owner, now):
    owner.no_letters = True
    owner.save()
    assert write_letter("confirm-request", owner=owner, to="a@b.example", now=now) is not None


def test_without_an_address_there_is_no_letter_but_a_moment(bench, job, now):
    OwnerContact.objects.get(owner=job.owner).delete()
    assert write_letter("ready", job=job, now=now) is None
    assert "no address is on file" in job.moments.get(what="letter").text


@pytest.mark.parametrize(
    "address", ["nobody", "a@b", "a b@c.example", "a@b.example\nBcc: c@d.example", "a@" + "b" * 400 + ".example"]
)
def test_an_address_that_is_none_is_kept_as_not_sent(bench, job, now, address):
    letter = write_letter("ready", job=job, to=address, now=now)
    assert letter.state == "failed"
    assert letter.trouble
    assert "\n" not in letter.to
    assert len(letter.to) <= 254
    assert "Not sent" in job.moments.get(what="letter").text


def test_due_soon_goes_only_to_owners_who_agreed(bench, job, now):
    assert write_letter("due-soon", job=job, now=now, extra={"due": "1 May 2027"}) is not None
    job.owner.due_agreed = False
    job.owner.save()
    assert write_letter("due-soon", job=job, now=now, extra={"due": "2 May 2027"}) is None


def test_a_letter_to_a_merged_owner_goes_to_the_one_that_stayed(bench, job, owner, now):
    from flueproof.shop.records.models import Owner

    stayed = Owner.objects.create(name="Stayed (invented)")
    OwnerContact.objects.create(owner=stayed, name="Bo", email="bo@stayed.example")
    owner.merged_into = stayed
    owner.save()
    letter = write_letter("ready", job=job, now=now)
    assert (letter.to, letter.owner) == ("bo@stayed.example", stayed)


def test_line_breaks_in_values_reach_no_header(bench, job, now):
    job.analyzer.model = "Orrin\r\nBcc: all@owners.example"
    job.analyzer.save()
    letter = write_letter("ready", job=job, now=now)
    assert letter.subject == "Your Orrin Bcc: all@owners.example, serial O5-20417 is ready, job J-2026-00042"
    assert "\r" not in letter.text


def test_a_subject_is_cut_at_200_signs_and_words_at_4000(bench, job, now):
    letter = write_letter("letter", job=job, now=now, extra={"subject": "s" * 9000, "words": "w" * 90_000})
    assert len(letter.subject) == 200
    assert letter.text.count("w") < 4100
    assert "cut; call us for the rest" in letter.text


def test_html_of_others_is_escaped(bench, job, owner, now):
    contact = owner.contacts.get()
    contact.name = '<img src="x" onerror="alert(1)">'
    contact.save()
    letter = write_letter("ready", job=job, now=now)
    assert "<img" not in letter.html
    assert "&lt;img" in letter.html
    assert "<img" in letter.text


def test_a_link_of_others_becomes_no_link(bench, job, owner, now):
    contact = owner.contacts.get()
    contact.name = "https://elsewhere.example/pay"
    contact.save()
    letter = write_letter("ready", job=job, now=now)
    assert letter.html.count("<a ") == letter.html.count('<a href="https://bench.example/answer/')


def test_nobody_types_a_seal_that_would_be_opened(bench, job, now):
    made = write_letter("ready", job=job, now=now)
    sealed = made.text.split("/answer/")[1].split("/")[0]
    assert sealed.endswith("~sealed")
    copied = write_letter("letter", job=job, now=now, extra={"subject": sealed, "words": sealed})
    assert "~sealed" not in copied.text + copied.subject + copied.html
    LetterTemplate.objects.create(kind="delivered", subject="x", text=f"{sealed}\n")
    assert "~sealed" not in write_letter("delivered", job=job, now=now).text


def test_without_a_public_address_the_line_of_the_link_is_left_out(shop, job, now):
    letter = write_letter("ready", job=job, now=now)
    assert "See where it stands" not in letter.text
    assert not AnswerLink.objects.exists()


def test_a_link_that_the_caller_made_is_used_and_sealed(bench, job, now):
    from flueproof.shop.records.mailing.links import make_link

    _, address = make_link("follow", job=job, now=now, days=5)
    letter = write_letter("ready", job=job, now=now, extra={"link": address})
    assert address not in letter.text
    assert address.split("~")[0] in letter.text
    assert AnswerLink.objects.count() == 1


def test_the_shops_own_words_go_before_the_shipped_ones(bench, job, now):
    LetterTemplate.objects.create(kind="ready", subject="Fertig: {job}", text="Hallo {person}\n")
    letter = write_letter("ready", job=job, now=now)
    assert (letter.subject, letter.text) == ("Fertig: J-2026-00042", "Hallo Ada Quay (invented)\n")


def test_a_template_of_an_older_day_with_a_name_that_is_gone_still_writes(bench, job, now):
    LetterTemplate.objects.create(kind="ready", subject="{gone} ready", text="Hello {gone}\nDone.\n")
    letter = write_letter("ready", job=job, now=now)
    assert (letter.subject, letter.text) == ("ready", "Done.\n")


def test_a_kind_that_there_is_not_is_a_mistake_of_the_program(bench, job, now):
    with pytest.raises(KeyError):
        write_letter("nothing", job=job, now=now)
