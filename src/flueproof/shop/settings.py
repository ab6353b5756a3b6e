"""Settings of the shop, all from the environment; `flueproof serve` sets what its options say."""

from __future__ import annotations

import os
import secrets
from pathlib import Path
from typing import Any

from csp.constants import NONCE, SELF

from flueproof.shop.database import database_settings
from flueproof.shop.mail_server import TIMEOUT_S, mail_server

DATA = Path(os.environ.get("FLUEPROOF_DATA", "flueproof-shop")).resolve()
DEBUG = os.environ.get("FLUEPROOF_DEBUG") == "1"
HTTPS = os.environ.get("FLUEPROOF_HTTPS") == "1"
BEHIND_PROXY = os.environ.get("FLUEPROOF_PROXY") == "1"
DEMO = os.environ.get("FLUEPROOF_DEMO") == "1"
DEMO_ADDRESS = os.environ.get("FLUEPROOF_DEMO_ADDRESS", "") if DEMO else ""  # where links in the demo's e-mails lead
if DEMO:
    from flueproof.shop.demo_shop.password import DEMO_PASSWORD as DEMO_PASSWORD  # noqa: PLC0414 -- shown on the sign-in page
_HERE = Path(__file__).resolve().parent


def _secret_key() -> str:
    """Return the key that signs sessions: from the environment, or made once beside the database."""
    if given := os.environ.get("FLUEPROOF_SECRET_KEY"):
        return given
    path = DATA / "secret.key"
    if not path.exists():
        DATA.mkdir(parents=True, exist_ok=True)
        try:
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        except FileExistsError:
            return path.read_text(encoding="utf-8")
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(secrets.token_urlsafe(48))
    return path.read_text(encoding="utf-8")


SECRET_KEY = _secret_key()
ALLOWED_HOSTS = [name for name in os.environ.get("FLUEPROOF_HOSTS", "localhost,127.0.0.1,[::1]").split(",") if name]
CSRF_TRUSTED_ORIGINS = [name for name in os.environ.get("FLUEPROOF_ORIGINS", "").split(",") if name]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django_htmx",
    "simple_history",
    "axes",
    "csp",
    "django_otp",
    "django_otp.plugins.otp_totp",
    "django_otp.plugins.otp_static",
    "ninja",
    "flueproof.shop.records",
    "flueproof.shop.frame",
    "flueproof.shop.counter",
    "flueproof.shop.requests",
    "flueproof.shop.arrivals",
    "flueproof.shop.mail",
    "flueproof.shop.promises",
    "flueproof.shop.returns",
    "flueproof.shop.flue",
    "flueproof.shop.duties",
    "flueproof.shop.impact",
    "flueproof.shop.bench",
    "flueproof.shop.live",
    "flueproof.shop.gas_rack",
    "flueproof.shop.parts_store",
    "flueproof.shop.papers",
    "flueproof.shop.house",
    "flueproof.shop.api",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_otp.middleware.OTPMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "simple_history.middleware.HistoryRequestMiddleware",
    "flueproof.shop.frame.signed_in.SignedInMiddleware",
    "axes.middleware.AxesMiddleware",  # last, as its documentation asks
]

ROOT_URLCONF = "flueproof.shop.urls"
ASGI_APPLICATION = "flueproof.shop.asgi.application"
TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "csp.context_processors.nonce",
                "flueproof.shop.frame.surroundings.frame",
            ],
            "builtins": ["flueproof.shop.frame.templatetags.frame"],
        },
    }
]

DATABASES = {"default": database_settings(os.environ.get("DATABASE_URL", ""), DATA)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

_MAIL = mail_server(os.environ.get("FLUEPROOF_MAIL", ""), DATA, demo=DEMO)
EMAIL_BACKEND, EMAIL_FILE_PATH, EMAIL_TIMEOUT = _MAIL.backend, _MAIL.folder or None, TIMEOUT_S
EMAIL_HOST, EMAIL_PORT, EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = _MAIL.host, _MAIL.port, _MAIL.user, _MAIL.password
EMAIL_USE_TLS, EMAIL_USE_SSL = _MAIL.starts_tls, _MAIL.all_tls
DEFAULT_FROM_EMAIL = "flueproof@localhost"  # while the shop has set no address of its own

AUTH_USER_MODEL = "records.Person"
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "django.contrib.auth.backends.ModelBackend"]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
_VALIDATION = "django.contrib.auth.password_validation."
AUTH_PASSWORD_VALIDATORS: list[dict[str, Any]] = [
    {"NAME": _VALIDATION + "UserAttributeSimilarityValidator"},
    {"NAME": _VALIDATION + "MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": _VALIDATION + "CommonPasswordValidator"},
    {"NAME": _VALIDATION + "NumericPasswordValidator"},
]
LOGIN_URL = "frame:login"
LOGIN_REDIRECT_URL = "counter:jobs"
LOGOUT_REDIRECT_URL = "frame:login"
SESSION_COOKIE_AGE = 12 * 3600  # one working day
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if BEHIND_PROXY else None
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin" if HTTPS else None  # browsers refuse it, and say so, without HTTPS
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"

AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = 0.25  # hours
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_LOCKOUT_CALLABLE = "flueproof.shop.frame.door.lock_out.locked_out"
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False  # the time that the page names holds
# What a form with a wrong password held is noted with the attempt: never what was meant to become a password.
AXES_SENSITIVE_PARAMETERS = ["username", "ip_address", "new", "again", "code"]
AXES_HTTP_RESPONSE_CODE = 429
AXES_CLIENT_IP_CALLABLE = "flueproof.shop.frame.door.client_address.client_address"
AXES_VERBOSE = False
OTP_TOTP_ISSUER = "Flueproof"

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "script-src": [SELF, NONCE],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "media-src": [SELF, "blob:"],
        "connect-src": [SELF],
        "object-src": ["'none'"],
        "base-uri": ["'none'"],
        "form-action": [SELF],
        "frame-src": [SELF],
        "frame-ancestors": [SELF],
    }
}

LANGUAGE_CODE = "en-us"
USE_I18N = False
USE_TZ = True
TIME_ZONE = os.environ.get("FLUEPROOF_TIME_ZONE", "America/New_York")  # the shop's own zone is a setting of the shop

STATIC_URL = "/static/"
STATIC_ROOT = Path(os.environ.get("FLUEPROOF_STATIC", str(DATA / "static")))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
        if os.environ.get("FLUEPROOF_COLLECTED") == "1"
        else "django.contrib.staticfiles.storage.StaticFilesStorage"
    },
}
if os.environ.get("FLUEPROOF_COLLECTED") != "1":
    STATIC_ROOT.mkdir(parents=True, exist_ok=True)  # whitenoise warns without it
WHITENOISE_USE_FINDERS = os.environ.get("FLUEPROOF_COLLECTED") != "1"
WHITENOISE_AUTOREFRESH = DEBUG
# Packed already, or (maps) megabytes that no page loads: packing them is half of the first start.
WHITENOISE_SKIP_COMPRESS_EXTENSIONS = ("gif", "gz", "jpeg", "jpg", "map", "png", "webp", "woff", "woff2")
DATA_UPLOAD_MAX_MEMORY_SIZE = 32 * 2**20
FILE_UPLOAD_MAX_MEMORY_SIZE = 8 * 2**20
SILENCED_SYSTEM_CHECKS: list[str] = []
NINJA_PAGINATION_PER_PAGE = 50

LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["console"], "level": os.environ.get("FLUEPROOF_LOG", "WARNING")},
    # a refused page or form is an answer, not a fault; what broke is still told
    "loggers": {"django.request": {"level": "ERROR"}},
}
