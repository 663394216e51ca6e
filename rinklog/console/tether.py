"""A process that ends when its parent does, however the parent ended (Linux; elsewhere no more than a check).

Also a program: `python tether.py PARENT_PID COMMAND …` ties itself to its parent and becomes the command.
"""

import ctypes
import os
import signal
import sys

PR_SET_PDEATHSIG = 1


def tether(parent: int, sign: int = signal.SIGKILL) -> None:
    """Have the kernel send this process `sign` when its parent ends; end now if it has ended already."""
    if sys.platform.startswith("linux"):
        ctypes.CDLL(None, use_errno=True).prctl(PR_SET_PDEATHSIG, int(sign), 0, 0, 0)
    if os.getppid() != parent:  # it ended before the kernel was asked
        os._exit(1)


if __name__ == "__main__":
    tether(int(sys.argv[1]))
    os.execvp(sys.argv[2], sys.argv[2:])
