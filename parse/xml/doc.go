// Package xmlscan reads XML 1.0 as a stream of start tags, end tags and runs
// of text that all know their place in the file, at the speed at which a '<'
// is found.
//
// It is made for scene files: long runs of numbers in few elements. A run of
// text is one token, handed out as a range of bytes, so that numbers are read
// in place; white space between tags is no token. Nothing is fetched and no
// declared entity is expanded: a document type is skipped, and a reference to
// anything but the five entities of XML and character numbers is a problem at
// its place and stays as written.
//
// The stream is always balanced: each start token is followed in time by its
// end token, whatever the file looks like. What is wrong goes to the
// scene.Problems of the caller; reading goes on behind it. An end tag that
// fits no open element is passed over, one that fits an outer element closes
// the inner ones, and a file that ends early closes all.
package xmlscan
