"""The record of a call as a file: one line an entry, chained by sums, written by one program at a time."""

from faultkit.record.lines import Chain
from faultkit.record.lock import RecordError
from faultkit.record.store import Record, is_record, read_record

__all__ = ["Chain", "Record", "RecordError", "is_record", "read_record"]
