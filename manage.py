#!/usr/bin/env python3
"""The one door to every command; from a bare clone it first makes the environment it needs."""

import sys

from rinklog import bootstrap

if __name__ == "__main__":
    bootstrap.ensure(sys.argv[1:])
    from rinklog.console.door import enter

    sys.exit(enter(sys.argv))
