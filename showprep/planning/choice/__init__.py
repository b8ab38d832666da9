"""Which fish go to which show, and on which day each is touched up: the best set, proven."""
