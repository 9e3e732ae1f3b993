"""Tests of what happens during a practice."""
