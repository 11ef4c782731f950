"""Exchange by EPCIS 2.0."""
