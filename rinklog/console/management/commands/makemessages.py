"""`manage.py makemessages -l nb`: gather every sentence of the program for a translator."""

from django.core.management.commands import makemessages


class Command(makemessages.Command):
    # Modules that need both say `lazy` for gettext_lazy, which Django's own list does not know.
    xgettext_options = [*makemessages.Command.xgettext_options, "--keyword=lazy"]
