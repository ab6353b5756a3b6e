"""The pages of the demo shop in a real browser: they open, without console errors, without accessibility faults."""

import pytest
from axe_playwright_python.sync_playwright import Axe

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", ["/", "/bench/"])
def test_a_page_opens_and_is_accessible(signed_in, demo_address, path, scheme):
    page = signed_in("alder", scheme=scheme)
    answer = page.goto(demo_address + path)
    assert answer.status == 200
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
