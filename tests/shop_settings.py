"""The shop's settings for tests: a data folder of their own, and a quick password hash."""

import os
import tempfile

os.environ["FLUEPROOF_DATA"] = os.environ.get("FLUEPROOF_TEST_DATA") or tempfile.mkdtemp(prefix="flueproof-tests-")
os.environ.setdefault("FLUEPROOF_TEST_DATA", os.environ["FLUEPROOF_DATA"])  # the workers of xdist share the folder

from flueproof.shop.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
