"""Environment in, settings out, nothing else. Every variable is listed in .env.example.

Nonsense in the environment stops the start with one sentence; nothing falls back to production by accident.
"""

import os
import socket
from pathlib import Path
from typing import Any

import dj_database_url
from django.core.exceptions import ImproperlyConfigured

from rinklog.mail_server import mail_settings
from rinklog.site_key import secret_key

# The push services of the common browsers; a leading dot means: and everything below.
PUSH_SERVICES = "fcm.googleapis.com,.push.services.mozilla.com,.push.apple.com,.notify.windows.com"
BASE_DIR = Path(__file__).resolve().parent.parent


def flag(name: str, default: bool) -> bool:
    """Read a yes/no variable."""
    raw = os.environ.get(name, "").strip().lower()
    if raw in ("", "1", "true", "yes", "on", "0", "false", "no", "off"):
        return default if raw == "" else raw in ("1", "true", "yes", "on")
    raise ImproperlyConfigured(f"{name} is {raw!r}; allowed are 1 or 0.")


def words(name: str, default: str) -> list[str]:
    """Read a comma-separated variable."""
    return [word.strip() for word in os.environ.get(name, default).split(",") if word.strip()]


PRODUCTION = flag("RINKLOG_PRODUCTION", False)
DEBUG = flag("RINKLOG_DEBUG", False)
if PRODUCTION and DEBUG:
    raise ImproperlyConfigured("RINKLOG_DEBUG is 1 while RINKLOG_PRODUCTION is 1; allowed is one of them.")

DATA_DIR = Path(os.environ.get("RINKLOG_DATA", BASE_DIR / ".data")).resolve()
SECRET_KEY = secret_key(DATA_DIR, os.environ, production=PRODUCTION)

# Behind a proxy or on a public host, name the hosts. Embedded use serves whatever address the phone reached.
ALLOWED_HOSTS = words("RINKLOG_HOSTS", "" if PRODUCTION else "*")
CSRF_TRUSTED_ORIGINS = words("RINKLOG_TRUSTED_ORIGINS", "")
BEHIND_PROXY = flag("RINKLOG_BEHIND_PROXY", False)
HTTPS_PORT = int(os.environ.get("RINKLOG_HTTPS_PORT", "0") or 0)
CERTIFICATE = os.environ.get("RINKLOG_CERT", "")
CERTIFICATE_KEY = os.environ.get("RINKLOG_CERT_KEY", "")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "csp",
    "rinklog.upkeep",
    "rinklog.rink",
    "rinklog.crew",
    "rinklog.weather",
    "rinklog.telling",
    "rinklog.photos",
    "rinklog.work",
    "rinklog.records",
    "rinklog.ice",
    "rinklog.advice",
    "rinklog.plan",
    "rinklog.site",
    "rinklog.money",
    "rinklog.owed",
    "rinklog.reports",
    "rinklog.archive",
    "rinklog.web",
    "rinklog.console",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "rinklog.web.middleware.LoopbackOrHttps",
    "django.middleware.gzip.GZipMiddleware",
    "csp.middleware.CSPMiddleware",
    "rinklog.web.sheets.SheetsInPolicy",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "rinklog.web.middleware.RenewSession",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "rinklog.web.middleware.PersonLocale",
    "rinklog.web.middleware.PersonUnits",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "rinklog.web.offline.replies.OutboxReplies",
]

ROOT_URLCONF = "rinklog.urls"
WSGI_APPLICATION = "rinklog.wsgi.application"

TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": False,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "rinklog.web.context.page",
            ],
            "libraries": {"rinklog": "rinklog.web.templatetags.rinklog"},
            "builtins": [
                "django.templatetags.i18n",
                "django.templatetags.static",
                "rinklog.web.templatetags.sheets",
                "rinklog.web.templatetags.navigation",
            ],
        },
    }
]

DATABASES = {
    "default": dj_database_url.parse(
        os.environ.get("DATABASE_URL") or f"sqlite:///{DATA_DIR}/rinklog.sqlite3"
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # Without these, phones that read and then write at once lose writes ("database is locked").
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA cache_size=-16000;",
    }
    DATABASES["default"]["CONN_MAX_AGE"] = 600
else:
    DATABASES["default"]["CONN_MAX_AGE"] = 60
    DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "crew.Person"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 8}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "front"

# A phone stays signed in through a season.
SESSION_COOKIE_AGE = 60 * 60 * 24 * 200
SESSION_COOKIE_NAME = "rinklog_session"
CSRF_COOKIE_NAME = "rinklog_csrf"
CSRF_COOKIE_AGE = SESSION_COOKIE_AGE
CSRF_FAILURE_VIEW = "rinklog.web.errors.csrf_failure"
SESSION_COOKIE_SAMESITE = "Lax"
MESSAGE_STORAGE = "django.contrib.messages.storage.cookie.CookieStorage"

# Embedded use has plain HTTP on localhost beside HTTPS; production is HTTPS only.
SESSION_COOKIE_SECURE = PRODUCTION
CSRF_COOKIE_SECURE = PRODUCTION
SECURE_SSL_REDIRECT = PRODUCTION
SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365 if PRODUCTION else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = PRODUCTION
SECURE_HSTS_PRELOAD = PRODUCTION
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'none'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "img-src": ["'self'", "data:", "blob:"],
        "connect-src": ["'self'"],
        "manifest-src": ["'self'"],
        "worker-src": ["'self'"],
        "font-src": ["'self'"],
        "form-action": ["'self'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'none'"],
    }
}

LANGUAGE_CODE = "en"
# Each by its own name: whoever looks for theirs may not read the one that is shown.
LANGUAGES = [("en", "English"), ("fr", "Français"), ("nb", "Norsk bokmål")]
LOCALE_PATHS = [BASE_DIR / "rinklog" / "locale"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = Path(os.environ.get("RINKLOG_STATIC", DATA_DIR / "static"))
MEDIA_ROOT = Path(os.environ.get("RINKLOG_MEDIA", DATA_DIR / "media"))
COLLECTED = (STATIC_ROOT / "staticfiles.json").exists()
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
        if COLLECTED or PRODUCTION
        else "django.contrib.staticfiles.storage.StaticFilesStorage"
    },
}
WHITENOISE_USE_FINDERS = not (COLLECTED or PRODUCTION)
DATA_UPLOAD_MAX_MEMORY_SIZE = 4 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000
FILE_UPLOAD_PERMISSIONS = 0o640

# Django's EMAIL_HOST and its kin; without an address no mail is sent.
globals().update(mail_settings(os.environ.get("RINKLOG_SMTP_URL", "")))
EMAIL_TIMEOUT = 15
DEFAULT_FROM_EMAIL = os.environ.get("RINKLOG_MAIL_FROM", "") or f"rinklog@{socket.gethostname()}"
# Push services that a browser may name as its own; the site never posts anywhere else.
PUSH_HOSTS = words("RINKLOG_PUSH_HOSTS", PUSH_SERVICES)

CELERY_BROKER_URL = os.environ.get("CELERY_BROKER_URL") or "filesystem://"
CELERY_TASK_ALWAYS_EAGER = flag("RINKLOG_TASKS_EAGER", False)

# Whom a weather service may write to; a rink's own contact comes first. Other addresses are for proxies and tests.
WEATHER_CONTACT = os.environ.get("RINKLOG_WEATHER_CONTACT", "")
WEATHER_URLS = {
    "met-norway": os.environ.get("RINKLOG_WEATHER_URL_MET_NORWAY", ""),
    "us-nws": os.environ.get("RINKLOG_WEATHER_URL_US_NWS", ""),
    "open-meteo": os.environ.get("RINKLOG_WEATHER_URL_OPEN_METEO", ""),
    "metar": os.environ.get("RINKLOG_WEATHER_URL_METAR", ""),
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": os.environ.get("RINKLOG_LOG_LEVEL", "WARNING")},
}
