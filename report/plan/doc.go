// Package plan shows what the owner of a room does, in the order in which it is done, on one page:
// what is wrong, where things go, which changes help, what to build first, what to buy and cut, how
// to check by measuring. A plan of [evenbass/optimize/plan] goes in. The page is made of the bodies
// of the other pages ([evenbass/report/html.Part]); text for a terminal and JSON come out too.
package plan
