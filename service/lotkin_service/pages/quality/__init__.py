"""Pages of quality: containment, cases, complaints, gaps."""
