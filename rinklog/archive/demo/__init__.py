"""An invented rink in an invented town, its crew and a season under way: to look at, to try, to test on."""
