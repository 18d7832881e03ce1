package export

// nonBlocking is nothing in a browser, which has no pipes.
const nonBlocking = 0
