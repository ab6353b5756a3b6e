"""`flueproof demo --check`: the living shop comes up, and each role sees its pages."""

from flueproof.cli.running.living_demo import FIRST_PORT, free_port


def test_the_shop_comes_up_and_each_role_sees_its_pages(run, tmp_path, monkeypatch):
    monkeypatch.delenv("DATABASE_URL", raising=False)
    monkeypatch.delenv("DJANGO_SETTINGS_MODULE", raising=False)
    result = run("demo", "--check", "--out", tmp_path / "demo", "--port", free_port())
    assert result.exit_code == 0, result.output
    assert "is ready after" in result.output
    for name, pages in (("marsh", 1), ("vale", 3), ("alder", 2), ("reed", 2)):
        assert f"{name}: {pages} pages came" in result.output
    assert "alder: signed FP-" in result.output


def test_a_free_port_is_one_of_the_first(run):
    assert FIRST_PORT <= free_port() < FIRST_PORT + 20
