"""Reading what the user names, and writing it whole or not at all."""

from bookplates.files.reading import is_pdf, is_standard_output, let_go, read_bytes, read_pdf, read_spec_or_pack
from bookplates.files.writing import check_new, check_outputs_go, write_bytes, write_new, write_together

__all__ = [
    "check_new",
    "check_outputs_go",
    "is_pdf",
    "is_standard_output",
    "let_go",
    "read_bytes",
    "read_pdf",
    "read_spec_or_pack",
    "write_bytes",
    "write_new",
    "write_together",
]
