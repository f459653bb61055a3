"""The program around the models: state, presentation, window, commands."""
