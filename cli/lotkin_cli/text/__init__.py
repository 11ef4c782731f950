"""How answers look: words for people, documents for programs, cells for spreadsheets."""
