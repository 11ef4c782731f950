"""What events are put together from: inputs, outputs and rows."""
