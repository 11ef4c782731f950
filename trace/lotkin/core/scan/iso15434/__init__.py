"""Messages of ISO/IEC 15434: their envelope, formats and fields."""
