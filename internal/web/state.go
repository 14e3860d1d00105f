package web

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"fmt"
	"io"
	"net/url"

	"github.com/heatwright/heatwright/route"
)

// The bench keeps no job on the server: a plan lives in its own address, packed.
// Going back in the browser undoes a change, a copied link shares the plan, and
// there is nothing in it but the job file itself.

// maxJob is the most that a packed job may unpack to [bytes].
const maxJob = 128 << 10

// pack turns a job into the value of the address's j.
func pack(job route.Job) string {
	var b bytes.Buffer
	z, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		panic("web: " + err.Error()) // the level is a constant
	}
	if _, err := z.Write(route.Write(job)); err != nil {
		panic("web: " + err.Error()) // writes to memory
	}
	if err := z.Close(); err != nil {
		panic("web: " + err.Error())
	}
	return base64.RawURLEncoding.EncodeToString(b.Bytes())
}

// unpack reads a job out of an address. Files beside it are never opened.
func unpack(j string) (route.Job, route.Problems, error) {
	text, err := unpackText(j)
	if err != nil {
		return route.Job{}, nil, err
	}
	job, problems := route.Parse(text, nil)
	if len(problems) > 0 { // what was typed stays, right or wrong
		job, _ = route.Draft(text)
	}
	return job, problems, nil
}

func unpackText(j string) ([]byte, error) {
	packed, err := base64.RawURLEncoding.DecodeString(j)
	if err != nil {
		return nil, fmt.Errorf("web: the link is damaged: %w", err)
	}
	text, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), maxJob+1))
	if err != nil {
		return nil, fmt.Errorf("web: the link is damaged: %w", err)
	}
	if len(text) > maxJob {
		return nil, fmt.Errorf("web: the link unpacks to more than %d bytes", maxJob)
	}
	return text, nil
}

// address returns the address of a page about a job.
func address(page string, job route.Job) string {
	return page + "?" + url.Values{"j": {pack(job)}}.Encode()
}
