"""The version of scadgen and of every module that it writes."""

VERSION = "0.2.0"
