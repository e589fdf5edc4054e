"""The settings as they are served, with plain static names: nothing was collected where a state is only read."""

from __future__ import annotations

from sillwright.web.settings import *  # noqa: F403
from sillwright.web.settings import MIDDLEWARE, STORAGES

STORAGES = {**STORAGES, "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
MIDDLEWARE = [each for each in MIDDLEWARE if "whitenoise" not in each]
