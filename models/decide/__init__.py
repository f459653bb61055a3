"""Requirements and verdicts."""
