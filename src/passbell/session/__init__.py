"""One cook in progress: reads the clock, drives the engine, writes the journal, rings."""

from passbell.session.cook import CookSession
from passbell.session.record import Record

__all__ = ["CookSession", "Record"]
