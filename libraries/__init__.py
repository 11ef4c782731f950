"""Looking at the libraries that lotkin is installed with."""
