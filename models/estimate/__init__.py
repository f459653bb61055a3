"""Values worked out from geometry: one frozen class an estimate, and the one registry that all else walks."""
