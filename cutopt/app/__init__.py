"""What shows a search while it works, and what the commands say and start: thin, no logic of cutting."""
