"""The first fill, the storm watch over it, and the thaw at the other end: pure rules, one file each."""
