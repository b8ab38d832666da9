"""One module a command: what it reads, what it calls, what it prints."""
