"""The console: every command but the plain Django ones."""

from django.apps import AppConfig


class ConsoleConfig(AppConfig):
    """Loads the Celery application, so that tasks queued by any Django process find its broker."""

    name = "rinklog.console"

    def ready(self) -> None:
        import rinklog.celery  # noqa: F401
