"""The paper on the table, and a class: what fits, how it is cut, what to buy, who makes it. Calls nobody above."""
