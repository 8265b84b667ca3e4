"""Settings that hold however the application runs."""

from pathlib import Path

from csp.constants import NONE, SELF

from config.environment import broker, database, env, mail, site

ROOT = Path(__file__).resolve().parent.parent.parent
VAR = Path(env.str("VAR_FOLDER", default=str(ROOT / "var")))

# --- who we are
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=[])
# what codes on paper open: a worker has no request that says it
SITE_URL = site()
DEBUG = env.bool("DEBUG", default=False)
ROOT_URLCONF = "config.urls"
WSGI_APPLICATION = "config.wsgi.application"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "django_htmx",
    "template_partials",
    "projects",
    "openings",
    "materials",
    "crews",
    "config",
]
MIDDLEWARE = [
    "config.middleware.request_id",
    "config.middleware.proxy",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "config.middleware.body_limit",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "projects.middleware.MembershipMiddleware",
    "config.middleware.Refusals",
    "axes.middleware.AxesMiddleware",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "projects.context.frame",
                "config.context.lateness",
            ]
        },
    }
]

# --- data
DATABASES = {"default": database(VAR / "lapwise.sqlite3")}
MEDIA_ROOT = Path(env.str("MEDIA_ROOT", default=str(VAR / "media")))
BACKUP_KEY_FILE = Path(env.str("BACKUP_KEY_FILE", default=str(VAR / "backup-key")))
STATIC_URL = "static/"
STATICFILES_DIRS = [ROOT / "static"]

# --- mail: without a server each message is written to a folder
vars().update(mail(VAR / "mail"))
EMAIL_TIMEOUT = 20
DEFAULT_FROM_EMAIL = env.str("EMAIL_FROM", default="") or "lapwise@localhost"

# --- words and time: pages show the company's own zone
LANGUAGE_CODE = "en-us"
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"

# --- people
AUTH_USER_MODEL = "projects.User"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"

# A guesser is held up per account and address, so nobody can lock somebody else out.
AXES_FAILURE_LIMIT = 10
AXES_COOLOFF_TIME = 0.25  # hours
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_FORM_FIELD = "username"  # the sign-in form's field, which is no column of ours
AXES_RESET_ON_SUCCESS = True
AXES_HTTP_RESPONSE_CODE = 429
AXES_LOCKOUT_CALLABLE = "config.errors.too_many_guesses"
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

# --- sessions and headers
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
DEVICE_COOKIE_NAME = "own-phone"  # on a phone that stays signed in; otherwise as the session's cookie
CSRF_COOKIE_HTTPONLY = True  # pages carry the token themselves
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "config.errors.old_page"
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
        "object-src": [NONE],
    }
}

# --- what a request may bring: larger files stream to disk, larger bodies are refused unread
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000
FILE_UPLOAD_MAX_MEMORY_SIZE = 256 * 1024
UPLOAD_LIMIT_BYTES = 20 * 1024 * 1024
BEHIND_PROXY = env.bool("BEHIND_PROXY", default=False)

# --- background work: the job row is the truth, the broker a nudge
CELERY_BROKER_URL = broker(VAR / "broker.sqlite3")
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_TASK_TIME_LIMIT = 300
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TASK_DEFAULT_QUEUE = env.str("JOB_QUEUE", default="lapwise")
if CELERY_BROKER_URL.startswith("redis"):
    CELERY_BROKER_TRANSPORT_OPTIONS = {"visibility_timeout": 600}
JOB_HEARTBEAT_SECONDS = env.int("JOB_HEARTBEAT_SECONDS", default=5)
JOB_STALE_SECONDS = env.int("JOB_STALE_SECONDS", default=30)
JOB_NUDGE_AGAIN_SECONDS = env.int("JOB_NUDGE_AGAIN_SECONDS", default=20)
JOB_SWEEP_SECONDS = env.int("JOB_SWEEP_SECONDS", default=20)
JOB_ATTEMPTS = 3

# --- logs: one line per event on standard error, no bodies, no settings
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"request_id": {"()": "config.logs.RequestIdFilter"}},
    "formatters": {
        "line": {
            "()": "config.logs.OneLine",
            "format": "{asctime} {levelname} {name} [{request_id}] {message}",
            "style": "{",
        }
    },
    "handlers": {
        "stderr": {"class": "logging.StreamHandler", "formatter": "line", "filters": ["request_id"]},
    },
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": [], "level": "WARNING", "propagate": True},
        "lapwise": {"level": "INFO"},
        "celery": {"level": "WARNING"},
        "weasyprint": {"level": "ERROR"},  # it warns of each font and each line of CSS that it does not know
    },
}
