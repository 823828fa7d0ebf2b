"""Two boards, each covered on its own, joined by a book tape down the spine."""
