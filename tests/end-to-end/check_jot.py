def checks():
    return ()
