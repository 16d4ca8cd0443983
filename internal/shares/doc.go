// Package shares divides a total among the causes that make it. A game is a
// number v(S) for every set S of causes; v of none is the base, v of all what is
// to be divided.
//
// [Exact] goes through all sets and gives the Shapley value of each cause: what
// it adds, averaged over every order in which the causes could come,
//
//	share_i = sum over S without i of |S|! (n - |S| - 1)! / n! (v(S + i) - v(S))
//
// It is the one division in which the shares add up to the total, a cause that
// never changes anything has none, equal causes have equal shares, and the shares
// of a sum of games are the sums of the shares (Shapley 1953). [Sampled] draws
// orders instead and says how far off it may be.
//
// A share is not what taking the cause away would give back; that is PutRight.
//
// # Conventions
//
// Axes and origin: none, numbers only. Index scheme and normalisation: cause i is
// bit i of a set, causes count from 0; shares add up to v(all) - v(none) and are
// never scaled to one. Sign: that of the game; where v grows with what is wrong, a
// share above 0 harms and one below 0 cancels part of the others. Eye side: none.
// Internal units: those of the game. Sampling and centring: orders are drawn from
// a seed, each followed by its reverse.
package shares
