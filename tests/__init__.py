"""Tests of scadgen: each file tests the module or the promise that it is named after."""
