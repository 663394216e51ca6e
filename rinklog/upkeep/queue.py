"""Does the task queue take messages?"""

import os

from celery import current_app


def queue_answers() -> bool:
    """Whether the broker can be reached within seconds; a folder is reached when it can be written."""
    with current_app.connection_for_write(connect_timeout=2) as connection:
        channel = connection.default_channel
        folder = getattr(channel, "data_folder_out", None)
        if folder is not None:
            return os.access(folder, os.W_OK | os.X_OK)
        return bool(channel.client.ping())
