package show

import (
	"net/url"
	"path"
	"strings"

	"go.lsp.dev/uri"
)

// Scheme is that of the addresses of documents that the server writes, and the
// name of its settings.
const Scheme = "curvelint"

// compareFolder is where comparisons are among the documents that the server
// writes.
const compareFolder = "/compare/"

// CheckAddress returns where the document about a check is found; the server itself
// shows it.
func CheckAddress(check string) uri.URI { return uri.URI(Scheme + ":/explain/" + check + ".md") }

// ComparisonAddress returns where the comparison of a scene with its earlier pass is
// found; the server itself shows it. Name is that of its file.
func ComparisonAddress(u uri.URI, name string) uri.URI {
	return uri.URI(Scheme + ":" + compareFolder + url.PathEscape(name+".txt") + "?" + url.QueryEscape(string(u)))
}

// ReadAddress says what an address leads to: the comparison of a scene, or else the
// document about a check, which need not be there. Ok is false for an address that
// is not of a document of the server's.
func ReadAddress(u uri.URI) (check string, compared uri.URI, ok bool) {
	address, err := url.Parse(string(u))
	if err != nil || address.Scheme != Scheme {
		return "", "", false
	}
	if strings.HasPrefix(address.Path, compareFolder) {
		of, err := url.QueryUnescape(address.RawQuery)
		return "", uri.URI(of), err == nil
	}
	return strings.TrimSuffix(path.Base(address.Path), ".md"), "", true
}
