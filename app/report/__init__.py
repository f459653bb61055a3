"""The report for a design review: one content, as HTML and as PDF."""
