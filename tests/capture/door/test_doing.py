import json
import signal
import threading

import pytest

from flueproof.capture.door.doing import do
from flueproof.capture.errors import CaptureError
from flueproof.capture.lines.pattern import Shown
from flueproof.capture.spool import Spool


@pytest.fixture
def asked(shop, token, counting_file, tmp_path):
    return {
        "tcp": None,
        "serial": None,
        "baud": 9600,
        "framing": "8N1",
        "pattern": str(counting_file),
        "server": shop.url,
        "token_file": None,
        "token": token,
        "agent": "bench-1",
        "spool": str(tmp_path / "spool"),
        "ceiling": 200.0,
        "report": 0.0,
        "json": True,
    }


def events(capsys):
    return {row["event"]: row for row in map(json.loads, capsys.readouterr().out.splitlines())}


def test_check_says_who_the_shop_is_and_that_all_can_be_used(asked, port, capsys):
    assert do("check", asked | {"tcp": port.address}) == 0
    said = events(capsys)
    assert (said["shop"]["station"], said["shop"]["shop"]) == ("bench one", "Harrow Lane (invented)")
    assert set(said) == {"shop", "pattern", "source", "spool"}


def test_check_names_everything_that_is_wrong_at_once(asked, capsys, tmp_path):
    bad = {"token": "tok-unknown-123", "pattern": "nosuch.toml", "serial": str(tmp_path / "no-port")}
    assert do("check", asked | bad) == 2
    texts = [json.loads(line)["text"] for line in capsys.readouterr().out.splitlines()]
    assert any("token is not known" in text for text in texts)
    assert any("nosuch.toml" in text for text in texts)
    assert any("no-port" in text for text in texts)
    assert "tok-unknown" not in " ".join(texts)


def test_check_says_what_waits_in_the_spool(asked, capsys, tmp_path):
    spool = Spool(tmp_path / "spool", "bench-1")
    spool.add("2026-11-25T10:00:00.120+00:00", [Shown("n", "1", 1, 1)])
    spool.close()
    assert do("check", asked) == 0
    assert events(capsys)["spool"]["waiting"] == 1


def test_check_makes_no_spool(asked, tmp_path):
    assert do("check", asked) == 0
    assert not (tmp_path / "spool").exists()


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({}, "source"),
        ({"tcp": "127.0.0.1:1", "serial": "COM3"}, "one source"),
        ({"token": None}, "token"),
        ({"token_file": "nosuch"}, "--token-file"),
        ({"agent": "bench 1"}, "--agent"),
        ({"agent": "x" * 64}, "--agent"),
        ({"server": "shop"}, "--server"),
        ({"pattern": "nosuch"}, "nosuch"),
        ({"tcp": "127.0.0.1:1", "ceiling": float("nan")}, "--ceiling"),
    ],
)
def test_what_cannot_be_used_is_named_before_anything_begins(change, named, asked, tmp_path):
    with pytest.raises(CaptureError) as refused:
        do("run", asked | change)
    assert named in str(refused.value)
    assert not (tmp_path / "spool").exists()


def test_the_token_of_a_file_is_used_without_its_line_end_and_never_shown(asked, port, shop, token, tmp_path, capsys):
    file = tmp_path / "token.txt"
    file.write_text(f"{token}\r\n", encoding="utf-8-sig")
    assert do("check", asked | {"token": None, "token_file": str(file), "tcp": port.address}) == 0
    captured = capsys.readouterr()
    assert token not in captured.out + captured.err


def test_it_runs_from_a_line_to_the_shop_and_stops_on_a_signal(asked, port, shop, until, capsys):
    def bench():
        port.accept()
        port.send("N=1 CO=2.5 ppm\r\nN=2\r\n")
        until(lambda: len(shop.stored) == 3)
        signal.raise_signal(signal.SIGTERM)

    thread = threading.Thread(target=bench)
    thread.start()
    before = signal.getsignal(signal.SIGTERM)
    assert do("run", asked | {"tcp": port.address}) == 0
    thread.join()
    assert signal.getsignal(signal.SIGTERM) is before
    assert shop.numbers() == [1, 2]
    said = events(capsys)
    assert said["stopped"]["sent"] == 3
    assert said["stopped"]["waiting"] == 0
    assert min(key[1] for key in shop.stored) > 1_700_000_000_000


def test_a_spool_that_had_another_id_is_told(asked, port, until, capsys, tmp_path):
    spool = Spool(tmp_path / "spool", "old-id")
    spool.add("2026-11-25T10:00:00.120+00:00", [Shown("n", "1", 1, 1)])
    spool.trying(1)
    spool.close()

    def bench():
        port.accept()
        signal.raise_signal(signal.SIGINT)

    thread = threading.Thread(target=bench)
    thread.start()
    assert do("run", asked | {"tcp": port.address}) == 0
    thread.join()
    assert "up to 1 readings" in events(capsys)["id-changed"]["text"]


def test_the_usual_spool_lies_in_the_home_folder_one_per_id(asked, capsys, monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert do("check", asked | {"spool": None}) == 0
    assert str(tmp_path / ".flueproof-capture" / "bench-1") in events(capsys)["spool"]["text"]


def test_an_open_network_is_named(asked, monkeypatch, capsys, port):
    monkeypatch.setattr("flueproof.capture.shop._NEAR", frozenset())

    def bench():
        port.accept()
        signal.raise_signal(signal.SIGINT)

    thread = threading.Thread(target=bench)
    thread.start()
    do("run", asked | {"tcp": port.address})
    thread.join()
    assert "unprotected" in events(capsys)


def test_two_agents_on_one_spool_are_refused(asked, tmp_path, monkeypatch):
    monkeypatch.setattr("flueproof.capture.spool._LOCK_WAIT_S", 0.05)
    first = Spool(tmp_path / "spool", "bench-1")
    with pytest.raises(CaptureError, match="another agent"):
        do("run", asked | {"tcp": "127.0.0.1:1"})
    first.close()
