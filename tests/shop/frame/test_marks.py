"""Shapes with words: the three statements, our own drawings, fields tied to their label, help and error."""

import re

import pytest
from django import forms
from django.template import Context, Template, TemplateDoesNotExist

from flueproof.pictures.grammar import WORDS
from flueproof.shop.frame.drawing import drawing
from flueproof.shop.frame.statement_mark import statement_mark


@pytest.mark.parametrize("which", ["conform", "not-conform", "undecided", ""])
def test_a_statement_is_a_shape_with_its_word(which):
    mark = statement_mark(which)
    assert "<svg" in mark
    assert f">{WORDS[which] if which else 'not tested'}</span>" in mark


def test_the_shapes_differ_without_their_color():
    shapes = {
        re.sub(r' class="[^"]*"', "", statement_mark(which)) for which in ("conform", "not-conform", "undecided", "")
    }
    assert len({re.search(r"<svg.*</svg>", shape)[0] for shape in shapes}) == 4


def test_a_word_that_is_no_statement_is_refused():
    with pytest.raises(ValueError, match="is no statement"):
        statement_mark("maybe")


def test_a_drawing_is_silent_or_speaks_and_a_label_is_no_markup():
    assert 'aria-hidden="true"' in drawing("trap")
    spoken = drawing("trap", 'a "trap" <b>')
    assert 'role="img"' in spoken
    assert 'aria-label="a &quot;trap&quot; &lt;b&gt;"' in spoken


@pytest.mark.parametrize("name", ["../page", "Trap", "trap.svg", ""])
def test_a_name_that_is_none_reads_no_file(name):
    with pytest.raises(ValueError, match="is no drawing's name"):
        drawing(name)


def test_a_drawing_that_nobody_drew_is_told():
    with pytest.raises(TemplateDoesNotExist):
        drawing("unicorn")


class Sample(forms.Form):
    """One field of each shape."""

    serial = forms.CharField(label="Serial", help_text="As on the plate.")
    dry = forms.BooleanField(label="Dry")
    probe = forms.ChoiceField(label="Probe", choices=[("on", "on"), ("off", "off")], widget=forms.RadioSelect)


def shown(name, data=None):
    form = Sample(data)
    form.is_valid()
    return Template("{% field form." + name + ' "plate" %}').render(Context({"form": form}))


def test_a_field_has_its_label_and_its_help():
    markup = shown("serial")
    assert '<label for="id_serial">Serial</label>' in markup
    assert 'aria-describedby="id_serial_help"' in markup
    assert '<p class="help" id="id_serial_help">As on the plate.</p>' in markup
    assert 'class="plate"' in markup


def test_an_error_is_tied_to_its_field_and_what_was_typed_is_kept():
    markup = shown("serial", {"serial": ""})
    assert 'aria-describedby="id_serial_help id_serial_wrong"' in markup
    assert 'aria-invalid="true"' in markup
    assert 'id="id_serial_wrong">This field is required.' in markup
    assert 'value="&lt;b&gt;"' in shown("serial", {"serial": "<b>"})


def test_choices_are_a_group_with_a_legend_and_a_tick_stands_in_its_label():
    group = shown("probe", {})
    assert "<legend>Probe</legend>" in group
    assert '<fieldset aria-invalid="true"' in group
    assert re.search(r"<label><input[^>]*checkbox[^>]*> Dry</label>", shown("dry"))
