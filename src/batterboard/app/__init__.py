"""What does the job look like right now? One page on this computer that follows the file, whatever editor writes it.

    shown  : a Plan in the page's words: checks, drawings, steps, assumptions, cautions
    follow : looks at the file, keeps the last good plan and what is wrong with the file now
    serve  : the page over HTTP, on this computer only
    pages/ : the page itself: one HTML, one style sheet, one small script

The page reads; it never writes the job file.
"""
