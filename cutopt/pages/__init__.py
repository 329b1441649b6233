"""Cutting pages."""
