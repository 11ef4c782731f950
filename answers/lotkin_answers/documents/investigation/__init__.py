"""Documents of what investigates further: causes, dispersion, the next question, samples."""
