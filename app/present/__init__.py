"""Results turned into what a plot, a table or a form shows, as plain values. No Qt."""
