"""What drives the pair: waveforms with their exact spectra, and where they act."""
