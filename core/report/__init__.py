"""What is handed out: printable text and exchange files."""
