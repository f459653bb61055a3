"""What comes of a bridge: impedance, common-mode voltage, current paths, touch current."""
