"""Tests of the sample workbooks and of the script that writes them."""
