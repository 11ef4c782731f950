"""All errors that lotkin raises, by who can act on them.

LotkinError
├── NotFound              the input names something that is not recorded       exit 4
│   ├── UnknownCode
│   │   ├── NotAnItem     (it is on record as something else)
│   │   └── NamesAnother  (it is no place, part or person that is wanted)
│   ├── UnknownCase
│   ├── NotAUnit
│   ├── NothingFits
│   ├── NothingOverlaps   (a finding: exit 1)
│   ├── NothingToDrill
│   ├── UnknownEvent
│   ├── UnknownPosition
│   └── NoPlan
├── Ambiguous             the input fits several records; lotkin does not guess exit 4
│   ├── AmbiguousCode
│   └── AmbiguousSpot
├── Refused               a rule forbids it; nothing was recorded               exit 3
│   ├── RuleBroken        (asked events only; reported ones carry the breach)
│   ├── EventIdReused
│   ├── NotConfirmed
│   ├── CountNotConfirmed
│   ├── CodeTaken
│   ├── Circle
│   ├── ChildBeforeParent
│   ├── StillInUse
│   └── BadReading
├── Invalid               the input is malformed                                exit 3
│   ├── BadEvent
│   ├── BadQuantity
│   ├── BadQuestion
│   ├── BadFile
│   ├── BadPlan
│   ├── BadTables
│   ├── BadDocument
│   ├── BackupRefused
│   ├── BackupKeyWrong
│   ├── StoreDamaged
│   ├── UnreadableLabel
│   └── WeakSecret
├── Barred                whoever asks is not let in, or may not do this        exit 3
│   ├── NotSignedIn
│   ├── WrongSecret
│   ├── TooManyTries
│   ├── StaleForm
│   └── NotAllowed
└── Unavailable           the store cannot be used                              exit 5
    ├── NoStore
    ├── StoreClosed       (by a program that goes on asking)
    ├── StoreExists
    ├── StoreLocked
    ├── StoreUnreadable
    ├── JournalUnreadable
    ├── StoreOutdated
    ├── DocumentsUnusable
    ├── DocumentMissing
    ├── BackupUnusable
    └── DocumentDamaged
"""

from __future__ import annotations

from lotkin.core.errors.backing_up import (
    BackupKeyWrong,
    BackupRefused,
    BackupUnusable,
    StoreDamaged,
)
from lotkin.core.errors.entering import (
    Barred,
    NotAllowed,
    NotSignedIn,
    StaleForm,
    TooManyTries,
    WeakSecret,
    WrongSecret,
)
from lotkin.core.errors.malformed import (
    BadDocument,
    BadEvent,
    BadFile,
    BadPlan,
    BadQuantity,
    BadQuestion,
    BadTables,
    Invalid,
    UnreadableLabel,
)
from lotkin.core.errors.naming import (
    Ambiguous,
    AmbiguousCode,
    AmbiguousSpot,
    NamesAnother,
    NoPlan,
    NotAnItem,
    NotAUnit,
    NotFound,
    NothingFits,
    NothingOverlaps,
    NothingToDrill,
    UnknownCase,
    UnknownCode,
    UnknownEvent,
    UnknownPosition,
)
from lotkin.core.errors.refusing import (
    BadReading,
    ChildBeforeParent,
    Circle,
    CodeTaken,
    CountNotConfirmed,
    EventIdReused,
    NotConfirmed,
    Refused,
    RuleBroken,
    StillInUse,
)
from lotkin.core.errors.root import LotkinError, did_you_mean
from lotkin.core.errors.storing import (
    DocumentDamaged,
    DocumentMissing,
    DocumentsUnusable,
    JournalUnreadable,
    NoStore,
    StoreClosed,
    StoreExists,
    StoreLocked,
    StoreOutdated,
    StoreUnreadable,
    Unavailable,
)

__all__ = [
    "Ambiguous",
    "AmbiguousCode",
    "AmbiguousSpot",
    "BackupKeyWrong",
    "BackupRefused",
    "BackupUnusable",
    "BadDocument",
    "BadEvent",
    "BadFile",
    "BadPlan",
    "BadQuantity",
    "BadQuestion",
    "BadReading",
    "BadTables",
    "Barred",
    "ChildBeforeParent",
    "Circle",
    "CodeTaken",
    "CountNotConfirmed",
    "DocumentDamaged",
    "DocumentMissing",
    "DocumentsUnusable",
    "EventIdReused",
    "Invalid",
    "JournalUnreadable",
    "LotkinError",
    "NamesAnother",
    "NoPlan",
    "NoStore",
    "NotAUnit",
    "NotAllowed",
    "NotAnItem",
    "NotConfirmed",
    "NotFound",
    "NotSignedIn",
    "NothingFits",
    "NothingOverlaps",
    "NothingToDrill",
    "Refused",
    "RuleBroken",
    "StaleForm",
    "StillInUse",
    "StoreClosed",
    "StoreDamaged",
    "StoreExists",
    "StoreLocked",
    "StoreOutdated",
    "StoreUnreadable",
    "TooManyTries",
    "Unavailable",
    "UnknownCase",
    "UnknownCode",
    "UnknownEvent",
    "UnknownPosition",
    "UnreadableLabel",
    "WeakSecret",
    "WrongSecret",
    "did_you_mean",
]
