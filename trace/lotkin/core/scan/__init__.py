"""Reading scans: our own codes, GS1 data and links, suppliers' labels in ISO/IEC 15434.

`read_scan` tells what a text is, `match_scan` which items it may mean. `element_string`,
`bracketed` and `digital_link` write GS1 data.
"""

from __future__ import annotations

from lotkin.core.scan.gs1.check_digits import check_digit
from lotkin.core.scan.gs1.digital_link import digital_link
from lotkin.core.scan.gs1.element_string import bracketed, element_string
from lotkin.core.scan.gs1.elements import Amount, Element, Elements
from lotkin.core.scan.iso15434.message import Field, Message06
from lotkin.core.scan.matching import Match, match_scan
from lotkin.core.scan.reading import read_scan
from lotkin.core.scan.results import (
    BareText,
    DigitalLink,
    ElementString,
    OwnCode,
    Scan,
    Unreadable,
)

__all__ = [
    "Amount",
    "BareText",
    "DigitalLink",
    "Element",
    "ElementString",
    "Elements",
    "Field",
    "Match",
    "Message06",
    "OwnCode",
    "Scan",
    "Unreadable",
    "bracketed",
    "check_digit",
    "digital_link",
    "element_string",
    "match_scan",
    "read_scan",
]
