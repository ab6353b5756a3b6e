"""The shop as an ASGI application; granian serves it."""

from __future__ import annotations

import os
import warnings

from django.core.asgi import get_asgi_application

# Static files come from whitenoise as plain iterators; they are small, and Django says so once a process.
warnings.filterwarnings("ignore", message="StreamingHttpResponse must consume synchronous iterators")
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "flueproof.shop.settings")
application = get_asgi_application()
