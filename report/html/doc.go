// Package html is the frame of every page: head, security policy, style, contents, cautions, how to
// get the page again, and the scripts. A page's view, which embeds [Frame], and the folder of its own
// templates go in ([Write]); one file that needs no network comes out.
package html
