"""EPCIS 2.0 and CBV 2.0 (ISO/IEC 19987, 19988): checking, hashing, writing and reading events."""
