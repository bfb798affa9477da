"""The TOML files that people write: parsed, then read by the keys that they are declared to have.

documents: bytes to a document. limits: the range of a number. kinds: what a key may hold. reading:
declared keys, and the one reader. hints: what was meant by a word that is not known.
"""
