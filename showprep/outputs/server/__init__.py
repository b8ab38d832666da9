"""The plan's jobs on a calendar server (CalDAV)."""
