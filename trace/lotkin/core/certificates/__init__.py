"""Certificates: types of inspection documents, and reading what one says."""

from __future__ import annotations

from lotkin.core.certificates.comparing import Stated, compare_papers
from lotkin.core.certificates.en10204 import (
    MEANING,
    certificate_type,
    check_type,
    need_of_type,
    types_in,
    untyped_papers,
)
from lotkin.core.certificates.fields import Found
from lotkin.core.certificates.reading import CertificateReading, read_certificate
from lotkin.core.certificates.tables import Row
from lotkin.core.certificates.words import Line, Word, group_lines, lines_of_text

__all__ = [
    "MEANING",
    "CertificateReading",
    "Found",
    "Line",
    "Row",
    "Stated",
    "Word",
    "certificate_type",
    "check_type",
    "compare_papers",
    "group_lines",
    "lines_of_text",
    "need_of_type",
    "read_certificate",
    "types_in",
    "untyped_papers",
]
