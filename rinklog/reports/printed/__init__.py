"""What is printed and hung up or carried along: signs with codes, the paper log. reportlab is imported only here."""
