"""Tests of what is written before the practice."""
