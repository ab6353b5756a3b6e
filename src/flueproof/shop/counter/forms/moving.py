"""Moves of a job: holding it, letting it go on, a note in its log."""

from __future__ import annotations

from typing import Any

from django import forms

from flueproof.shop.counter.forms.controls import text_area
from flueproof.shop.records.jobs.holding import held_from
from flueproof.shop.records.jobs.moving import states_after
from flueproof.shop.records.models import Job
from flueproof.shop.records.returning.leaving import obstacles


class MoveForm(forms.Form):
    """Into which state, seen from which; the reason where one is needed."""

    to = forms.ChoiceField(choices=Job.STATES)
    seen_state = forms.ChoiceField(choices=Job.STATES)
    why = forms.CharField(required=False, max_length=500)


class HoldForm(forms.Form):
    """Why the job stops, and what it waits for."""

    why = forms.CharField(label="Why", max_length=500, widget=text_area(2))
    waits_for = forms.CharField(
        label="Waits for", max_length=200, required=False, help_text="Stands on the tag. Empty: owner to decide."
    )


class ReleaseForm(forms.Form):
    """Who decided what, and where the job goes on."""

    decided_by = forms.CharField(label="Who decided", max_length=120)
    decision = forms.CharField(label="What was decided", max_length=500, widget=text_area(2))
    to = forms.ChoiceField(label="Goes on", choices=())

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        after = states_after(job.state) - {"held"}
        chosen: Any = self.fields["to"]
        chosen.choices = [(state, words) for state, words in Job.STATES if state in after]
        self.initial.setdefault("to", held_from(job))


class HandOutForm(forms.Form):
    """To whom the analyzer goes, and a check list of what came in the box."""

    given_to = forms.CharField(
        label="Handed to, or how it is sent",
        max_length=200,
        help_text="A name, or the carrier and the number on the parcel.",
    )
    goes_back = forms.MultipleChoiceField(
        label="Goes back with it", required=False, choices=(), widget=forms.CheckboxSelectMultiple
    )
    why = forms.CharField(
        label="Why it leaves all the same",
        required=False,
        max_length=500,
        help_text="Is kept with the job. A DO NOT USE tag that is due has no reason.",
    )

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        listed: Any = self.fields["goes_back"]
        listed.choices = [(str(name), str(name)) for name in job.enclosed]
        if not job.enclosed:
            del self.fields["goes_back"]
        self.against = obstacles(job) if job.state == "to-return" else []
        self.barred = any(not one.safe for one in self.against)
        if not self.against or self.barred:
            del self.fields["why"]


class NoteForm(forms.Form):
    """A line for the log."""

    text = forms.CharField(label="Note", max_length=1000, widget=text_area(2))
