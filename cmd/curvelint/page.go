package main

import (
	"io"

	"curvelint/diagnostics/page"
	"curvelint/diagnostics/report"
)

// htmlFormat is the format of a page that shows the motion too.
const htmlFormat = "html"

// pageReport is a report as a page. What has motion is added as it was encoded;
// configurations have notes alone.
type pageReport struct{ pages *page.Writer }

func (p *pageReport) File(f *report.File) error {
	e, err := page.EncodeFile(f)
	if err != nil {
		return err
	}
	return p.pages.Add(e)
}

func (p *pageReport) Close() error { return p.pages.Close() }

// newReport returns a writer in the format that was asked for.
func (k *checker) newReport(w io.Writer) (report.Writer, error) {
	if k.options.format == htmlFormat {
		return &pageReport{page.NewWriter(w, "curvelint")}, nil
	}
	return report.New(k.options.format, w, report.Options{Color: k.colorful(), Version: version})
}
