"""The HTML of a letter: paragraphs, points, one button, everything escaped."""

import base64
import hashlib

from flueproof.shop.records.mailing.html_letter import STYLE, html_of, style_hash

LINK = "https://bench.example/answer/abc/"


def body(text, link=""):
    return html_of("S", text, "Shop", link).split("<body>")[1]


def test_paragraphs_lines_and_points():
    html = body("Hello\n\nfirst\nsecond\n- one\n- two\nafter\n\nend")
    assert "<p>Hello</p>" in html
    assert "<p>first<br>second</p>\n<ul><li>one</li><li>two</li></ul>\n<p>after</p>" in html
    assert '<p class="last">end</p>' in html


def test_the_letters_own_link_becomes_a_button_and_no_other():
    html = body(f"Open it: {LINK}\nOr https://elsewhere.example/\n\nend", LINK)
    assert f'<p class="act"><a href="{LINK}">Open it</a></p>' in html
    assert html.count("<a ") == 2
    assert "Or https://elsewhere.example/" in html


def test_a_link_in_the_middle_of_a_line_is_a_link():
    assert f'see <a href="{LINK}">{LINK}</a> now' in body(f"see {LINK} now\n\nend", LINK)


def test_everything_is_escaped():
    html = html_of("<title>", "<script>&\"'", "<b>Shop</b>")
    assert "<script>" not in html
    assert "&lt;script&gt;&amp;&quot;&#x27;" in html
    assert "<title>&lt;title&gt;</title>" in html
    assert "&lt;b&gt;Shop" in html


def test_the_policy_lets_in_the_one_style_sheet():
    digest = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()
    assert style_hash(html_of("S", "x", "Shop")) == f"'sha256-{digest}'"


def test_nothing_is_loaded_from_anywhere():
    html = html_of("S", f"Open: {LINK}", "Shop", LINK)
    for word in ("src=", "url(", "@import", "<link", "<script", "<img"):
        assert word not in html
