// Package page writes a shot as one page for a browser that needs nothing else:
// the figures playing as stick drawings through the shot's camera or turned by
// hand, the paths of their points, the earlier pass behind them, and the notes.
// Live serves such a page on this machine and keeps it up to date.
package page
