"""What reports are put together from: blocks, tables, figures, files."""
