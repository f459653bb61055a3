"""The commands, one file each. None of them loads Qt unless it draws."""
