import socket
import time

import pytest

from flueproof.capture.errors import SettingError
from flueproof.capture.lines.pattern import Shown
from flueproof.capture.reading import Reading, body_of
from flueproof.capture.shop import Refused, Shop, Stored, Unclear

BODY = body_of("bench-1", [Reading(7, "2026-11-25T10:00:00.120+00:00", Shown("co", "ppm", 1, 402))])


@pytest.fixture
def near(shop, token):
    one = Shop(shop.url, token, timeout_s=2.0)
    yield one
    one.close()


def test_a_stored_batch_is_told_with_its_numbers_and_the_second_time_as_repeated(near, shop):
    assert near.post(BODY) == Stored(7, 1, 0)
    assert near.post(BODY) == Stored(7, 0, 1)
    assert shop.numbers("co") == [402]


def test_hello_says_who_is_there(near):
    assert near.hello() == {"station": "bench one", "shop": "Harrow Lane (invented)"}


@pytest.mark.parametrize(
    "answer", ["no answer", (500, b"x"), (503, {}), (429, {}), (408, {}), (200, b"<html>"), (200, [1])]
)
def test_an_answer_that_does_not_say_whether_it_is_stored_is_unclear(answer, near, shop):
    shop.say = [answer, answer]
    assert isinstance(near.post(BODY), Unclear)


@pytest.mark.parametrize(
    "told",
    [
        {},
        {"acknowledged": 7},
        {"acknowledged": "7", "stored": 1, "repeated": 0},
        {"acknowledged": True, "stored": 1, "repeated": 0},
        {"acknowledged": -1, "stored": 1, "repeated": 0},
    ],
)
def test_a_login_page_or_another_program_is_no_shop(told, near, shop):
    shop.say = [(200, told)]
    assert isinstance(near.post(BODY), Unclear)


@pytest.mark.parametrize("status", [400, 401, 403, 404, 405, 413, 422])
def test_a_refusal_comes_in_the_words_of_the_shop(status, near, shop):
    shop.say = [
        (status, {"error": {"message": "The channel is not known.", "remedy": "Mend the pattern."}}),
        (status, b""),
    ]
    assert near.post(BODY) == Refused(status, "The channel is not known.", "Mend the pattern.")
    wordless = near.post(BODY)
    assert isinstance(wordless, Refused)
    assert str(status) in wordless.message


def test_a_redirect_is_not_followed_but_told(near, shop):
    shop.say = [(302, b"", ("Location", "/login"))]
    answer = near.post(BODY)
    assert isinstance(answer, Refused)
    assert "/login" in answer.message
    assert len(shop.posts) == 1


def test_a_wrong_token_is_refused_and_not_shown(shop):
    near = Shop(shop.url, "tok-wrong-wrong")
    answer = near.post(BODY)
    assert isinstance(answer, Refused)
    assert answer.status == 401
    assert "tok-wrong" not in repr(answer)
    near.close()


def test_nobody_there_is_unclear():
    with socket.create_server(("127.0.0.1", 0)) as listener:
        number = listener.getsockname()[1]
    assert isinstance(Shop(f"http://127.0.0.1:{number}", "tok-12345678").post(BODY), Unclear)


def test_a_shop_that_never_answers_is_given_up_in_time():
    with socket.create_server(("127.0.0.1", 0)) as listener:
        near = Shop(f"http://127.0.0.1:{listener.getsockname()[1]}", "tok-12345678", timeout_s=0.2)
        began = time.monotonic()
        assert isinstance(near.post(BODY), Unclear)
        assert time.monotonic() - began < 2.0
        near.close()


def test_a_connection_that_the_shop_has_closed_meanwhile_is_opened_again_at_once(near, shop):
    assert near.post(BODY) == Stored(7, 1, 0)
    shop.say = ["no answer"]
    assert near.post(BODY) == Stored(7, 0, 1)


def test_a_path_in_front_is_kept(shop, token):
    near = Shop(f"{shop.url}/", token)
    assert near.post(BODY) == Stored(7, 1, 0)
    near.close()
    below = Shop(f"{shop.url}/below", token)
    assert isinstance(below.hello(), Refused)
    below.close()


@pytest.mark.parametrize("server", ["shop", "ftp://shop", "http://", "https://a:b@shop", "http://shop?x=1", "//shop"])
def test_an_address_that_is_none_is_refused(server):
    with pytest.raises(SettingError):
        Shop(server, "tok-12345678")


@pytest.mark.parametrize("secret", ["", "short", "tok-with space", "tok-12345678\r\nX: y", "tök-12345678"])
def test_a_token_that_is_none_is_refused_without_being_shown(secret):
    with pytest.raises(SettingError) as refused:
        Shop("http://shop.example", secret)
    assert not secret or secret not in str(refused.value)


def test_only_an_open_network_is_called_unprotected(token):
    assert Shop("http://shop.example", token).unprotected
    assert not Shop("https://shop.example", token).unprotected
    assert not Shop("http://127.0.0.1:8000", token).unprotected
