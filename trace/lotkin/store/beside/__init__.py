"""What is kept beside the record: documents, credentials, stations, letters."""
