// Package serve shows one page on this machine alone, and makes it again whenever the file that it
// comes from, or one of its settings, changes. A function that makes the page goes in ([Server]);
// what comes out is a site for one reader on the loopback: the page, what the program is doing, a few
// settings and, with a [Recorder], a page that measures by the reader's browser and microphone.
//
// Other people's pages must not reach it. It listens on the loopback alone, and its address holds a
// token that nobody can guess. It answers only requests to that address that come from its own pages,
// and it hands out nothing but what is made here: it opens no file for a request.
package serve
