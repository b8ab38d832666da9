"""The yard: its waters and show dates, the course of every fish and what it has met."""
