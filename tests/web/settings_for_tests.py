"""Settings of the tests: a data folder of their own, plain static names, a quick hash; else as they are served."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile

_FOLDER = tempfile.mkdtemp(prefix="sillwright-tests-")
os.environ["SILLWRIGHT_DATA"] = _FOLDER
atexit.register(shutil.rmtree, _FOLDER, ignore_errors=True)
if "SILLWRIGHT_TEST_DATABASE" in os.environ:
    os.environ["DATABASE_URL"] = os.environ["SILLWRIGHT_TEST_DATABASE"]
else:
    os.environ.pop("DATABASE_URL", None)

from sillwright.web.settings import *  # noqa: E402, F403
from sillwright.web.settings import MIDDLEWARE, STORAGES  # noqa: E402

STORAGES = {**STORAGES, "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
MIDDLEWARE = [each for each in MIDDLEWARE if "whitenoise" not in each]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
COMPILES = False
