"""The pages and the JSON API: parse, open one transaction, call one service, show its card."""
