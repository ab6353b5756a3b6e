"""`flueproof bounce`: from a pipe, with the exit codes that a mail server understands."""

import json
import os
import subprocess
import sys

import pytest

REPORT = (
    "Content-Type: multipart/report; report-type=delivery-status; boundary=b\n\n--b\n"
    "Content-Type: message/delivery-status\n\nReporting-MTA: dns; x.example\n\n"
    "Final-Recipient: rfc822; ada@tidewater.example\nAction: failed\nStatus: 5.1.1\n\n--b\n"
    "Content-Type: text/rfc822-headers\n\nMessage-ID: <nobody@x.example>\n\n--b--\n"
)


@pytest.fixture(scope="module")
def data(tmp_path_factory):
    """A shop of its own without any e-mail."""
    folder = tmp_path_factory.mktemp("shop")
    made = run("-m", "django", "migrate", "-v", "0", FLUEPROOF_DATA=str(folder))
    assert made.returncode == 0, made.stderr
    return folder


def run(*command, given="", **more):
    env = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    env |= {"DJANGO_SETTINGS_MODULE": "flueproof.shop.settings", **more}
    return subprocess.run([sys.executable, *command], input=given, env=env, capture_output=True, text=True, check=False)


def bounce(*options, given=""):
    return run("-m", "flueproof.cli", "bounce", *options, given=given)


def test_a_report_about_no_e_mail_of_ours_is_read_and_marks_nothing(data):
    done = bounce("--data", str(data), "--json", given=REPORT)
    assert (done.returncode, json.loads(done.stdout)["marked"]) == (0, False)
    assert "no e-mail of this shop" in json.loads(done.stdout)["words"]


def test_from_a_file_too_and_any_other_message_is_none(data, tmp_path):
    file = tmp_path / "answer.eml"
    file.write_text("Subject: thank you\n\nGreat work.\n")
    done = bounce(str(file), "--data", str(data))
    assert (done.returncode, done.stdout) == (0, "no delivery report; nothing is marked\n")


def test_no_message_and_no_shop_are_told_with_code_2(data, tmp_path):
    empty = bounce("--data", str(data))
    assert (empty.returncode, "Traceback" in empty.stderr) == (2, False)
    assert "there is no message" in empty.stderr
    nowhere = bounce("--data", str(tmp_path), given=REPORT)
    assert nowhere.returncode == 2
    assert "there is no shop" in nowhere.stderr


def test_a_database_that_does_not_answer_lets_the_mail_server_try_again(tmp_path):
    (tmp_path / "shop.sqlite3").write_bytes(b"")
    done = bounce("--data", str(tmp_path), given=REPORT)
    assert done.returncode == 75
    assert "Traceback" not in done.stderr
