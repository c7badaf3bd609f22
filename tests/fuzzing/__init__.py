"""Every reader is given spoilt files, in search of tracebacks, hangs and files written."""
