"""What must come before what: pure, by ids."""

from collections.abc import Hashable, Mapping, Sequence
from typing import TypeVar

K = TypeVar("K", bound=Hashable)


def in_order(keys: Sequence[K], needs: Mapping[K, set[K]]) -> list[K]:
    """Keys so that each follows what it needs, otherwise as they came; those in a circle last.

    Arguments: keys; needs by key, keys not among `keys` are no matter. Returns: every key once. Source: Kahn 1962.
    """
    left, found = list(keys), list[K]()
    done: set[K] = set()
    known = set(keys)
    while left:
        ready = next((one for one in left if needs.get(one, set()) & known <= done), None)
        if ready is None:
            return found + left
        left.remove(ready)
        found.append(ready)
        done.add(ready)
    return found


def is_circle(key: K, wanted: set[K], needs: Mapping[K, set[K]]) -> bool:
    """Whether `key` would have to come before itself if it needed `wanted`."""
    seen: set[K] = set()
    ahead = set(wanted)
    while ahead:
        one = ahead.pop()
        if one == key:
            return True
        if one not in seen:
            seen.add(one)
            ahead |= needs.get(one, set())
    return False
