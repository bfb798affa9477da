"""The version of scadgen and of every module that it writes."""

VERSION = "0.1.0"
#: Its date, ISO 8601: documents bear it.
DATE = "2026-11-28"
