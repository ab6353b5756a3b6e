"""E-mails in private: STARTTLS and TLS from the first byte, to a server with a certificate made for the test.

What the server is, is looked at as every program does: by the certificates that the machine trusts.
"""

import shutil
import ssl
import subprocess

import pytest
from django.conf import settings as live

from flueproof.shop.mail_server import mail_server
from flueproof.shop.records.mailing.sending import send_letters
from flueproof.shop.records.mailing.writing import write_letter

from .smtp_server import small_mail_server

OPENSSL = shutil.which("openssl")
pytestmark = pytest.mark.skipif(OPENSSL is None, reason="no openssl on this machine to make a certificate with")


@pytest.fixture(scope="session")
def certificate(tmp_path_factory):
    """Return a function name -> (certificate, key) of a server of that name, signed by itself."""
    folder = tmp_path_factory.mktemp("certificates")

    def make(name):
        made = folder / f"{name}.crt", folder / f"{name}.key"
        if not made[0].exists():
            kind = ["-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2"]
            named = ["-subj", f"/CN={name}", "-addext", f"subjectAltName=DNS:{name}"]
            out = ["-keyout", str(made[1]), "-out", str(made[0])]
            subprocess.run([OPENSSL, "req", *kind, *named, *out], check=True, capture_output=True)
        return made

    return make


@pytest.fixture
def letter(bench, job, now):
    return write_letter("ready", job=job, now=now)


@pytest.fixture
def private(certificate, settings, monkeypatch):
    """Return a function that runs a server in private and tells Django of it as FLUEPROOF_MAIL does."""

    def run(scheme, *, name="localhost", trusted=True, tls=True):
        crt, key = certificate(name)
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(crt, key)
        monkeypatch.setenv("SSL_CERT_FILE", str(crt if trusted else certificate("somebody.else")[0]))
        monkeypatch.setenv("SSL_CERT_DIR", "/nonexistent")
        server = small_mail_server(context if tls else None, starts=scheme == "smtp")
        return _Told(server, scheme, settings)

    return run


class _Told:
    def __init__(self, server, scheme, settings):
        self.server, self.scheme, self.settings = server, scheme, settings

    def __enter__(self):
        server = self.server.__enter__()
        how = "?tls=start" if self.scheme == "smtp" else ""
        said = mail_server(f"{self.scheme}://user:password@localhost:{server.port}{how}", live.DATA)
        self.settings.EMAIL_BACKEND, self.settings.EMAIL_HOST, self.settings.EMAIL_PORT = (
            said.backend,
            said.host,
            said.port,
        )
        self.settings.EMAIL_HOST_USER, self.settings.EMAIL_HOST_PASSWORD = said.user, said.password
        self.settings.EMAIL_USE_TLS, self.settings.EMAIL_USE_SSL = said.starts_tls, said.all_tls
        self.settings.EMAIL_TIMEOUT = 5
        return server

    def __exit__(self, *error):
        return self.server.__exit__(*error)


@pytest.mark.parametrize("scheme", ["smtp", "smtps"])
def test_a_letter_and_the_password_travel_in_private(private, letter, now, scheme):
    with private(scheme) as server:
        assert send_letters(now) == 1
    letter.refresh_from_db()
    assert (letter.state, letter.trouble) == ("sent", "")
    assert server.signed_in == [("user", "password")]
    assert server.in_private == [True, True]
    assert server.taken[0][1] == ["ada@tidewater.example"]


@pytest.mark.parametrize("scheme", ["smtp", "smtps"])
@pytest.mark.parametrize("wrong", [{"trusted": False}, {"name": "mail.example"}])
def test_a_server_that_cannot_prove_its_name_gets_neither_password_nor_letter(private, letter, now, scheme, wrong):
    with private(scheme, **wrong) as server:
        send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "waiting"
    assert letter.next_try_at > now
    assert "certificate verify failed" in letter.trouble.casefold()
    assert (server.taken, server.signed_in) == ([], [])


def test_a_server_that_does_not_offer_tls_gets_nothing_in_the_clear(private, letter, now):
    with private("smtp", tls=False) as server:
        send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "waiting"
    assert "STARTTLS" in letter.trouble
    assert (server.taken, server.signed_in) == ([], [])


def test_a_server_that_speaks_in_the_clear_where_tls_was_meant_gets_nothing(private, letter, now):
    with private("smtps", tls=False) as server:
        send_letters(now)
    letter.refresh_from_db()
    assert letter.state == "waiting"
    assert letter.trouble.startswith("no e-mail leaves: ")
    assert (server.taken, server.signed_in) == ([], [])
