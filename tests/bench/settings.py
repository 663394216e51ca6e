"""The site's own settings, with the bare view beside it: both sides live behind the same middleware."""

from rinklog.settings import *  # noqa: F403

ROOT_URLCONF = "tests.bench.urls"
