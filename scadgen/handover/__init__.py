"""The spec sheet of a hinge: one leaf for whoever prints it and for whoever buys it.

- ``facts``: what the page says, gathered from the hinge, its proof, its duty and its fleet.
- ``load``: what gives way under the duty, in which plastics, how often.
- ``cautions``: what can hurt someone; ``pinch`` and ``small_parts`` measure for it.
- ``spec_sheet``: the page as Markdown and as HTML.
"""
