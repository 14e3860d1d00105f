package route

import (
	"bytes"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/heatwright/heatwright/cite"
)

// Parse reads a job file. It returns the job, or every problem of the file.
//
// files returns the text of a file that the job names (the shop's), so that
// this package opens none itself; nil refuses such files.
func Parse(text []byte, files func(name string) ([]byte, error)) (Job, Problems) {
	var problems Problems
	d := &decoder{text: text, problems: &problems, places: map[string]*node{}}
	root := d.read()
	if root == nil {
		return Job{}, problems
	}
	if !d.format(root) {
		return Job{}, problems.sorted()
	}
	if s := root.fields["shop"]; s != nil && s.kind == aTable {
		d.unitOfShop(s)
		if f := s.fields["file"]; f != nil && f.kind == aText {
			return d.withShopFile(root, f, files)
		}
	}
	var job Job
	d.table(root, reflect.ValueOf(&job).Elem(), "")
	d.check(&job)
	if len(problems) > 0 {
		return Job{}, problems.sorted()
	}
	return job, nil
}

// Draft reads what it can of a job that may still be wrong, for whoever goes on
// changing it: every text stays as it was typed, right or wrong. Parse tells
// afterwards what has to be put right. ok is false for a text that is no job at all.
func Draft(text []byte) (job Job, ok bool) {
	var problems Problems
	d := &decoder{text: text, draft: true, problems: &problems, places: map[string]*node{}}
	root := d.read()
	if root == nil {
		return job, false
	}
	d.table(root, reflect.ValueOf(&job).Elem(), "")
	return job, true
}

// ParseShop reads a file that holds a shop alone.
func ParseShop(text []byte) (Shop, Problems) {
	var problems Problems
	d := &decoder{text: text, problems: &problems, places: map[string]*node{}}
	s := d.shopFile()
	if len(problems) > 0 {
		return Shop{}, problems.sorted()
	}
	return s, nil
}

// shopFile is the form of a file that holds a shop alone.
type shopFile struct {
	Format int  `key:"format" need:"*" doc:"version of this file; the first key"`
	Demo   bool `key:"demo" doc:"an invented shop"`
	Shop
}

func (d *decoder) shopFile() Shop {
	root := d.read()
	if root == nil || !d.format(root) {
		return Shop{}
	}
	d.unitOfShop(root)
	var f shopFile
	d.table(root, reflect.ValueOf(&f).Elem(), "")
	if f.File != "" {
		d.at("file", "route.shop-in-shop")
	}
	d.checkShop(&f.Shop, "")
	return f.Shop
}

func (d *decoder) withShopFile(root, f *node, files func(string) ([]byte, error)) (Job, Problems) {
	var text []byte
	var err error
	if files == nil {
		d.tell(f.at, "shop, file", f.text, "route.no-files")
	} else if text, err = files(f.text); err != nil {
		d.tell(f.at, "shop, file", f.text, "route.file-missing", cite.Txt("reason", reason(err)))
	}
	s := root.fields["shop"]
	for _, k := range s.keys {
		if k != "file" {
			d.tell(s.fields[k].keyAt, "shop, "+k, s.fields[k].text, "route.shop-twice", cite.Txt("file", f.text))
		}
	}
	var shop Shop
	if text != nil {
		in := &decoder{file: f.text, text: text, problems: d.problems, places: map[string]*node{}}
		shop = in.shopFile()
		d.degrees = in.degrees
	}
	var job Job
	d.table(root, reflect.ValueOf(&job).Elem(), "")
	if job.Shop.File != "" {
		shop.File = job.Shop.File
		job.Shop = shop
	}
	d.noShop = text == nil
	d.check(&job)
	if len(*d.problems) > 0 {
		return Job{}, d.problems.sorted()
	}
	return job, nil
}

// reason keeps what went wrong with a file and drops the path before it.
func reason(err error) string {
	parts := strings.Split(err.Error(), ": ")
	return parts[len(parts)-1]
}

// read returns the tree of the text, or nil when it is no text that could be a job.
func (d *decoder) read() *node {
	switch {
	case len(d.text) > maxFile:
		d.tell(-1, "", "", "route.too-large", cite.Num("size", float64(len(d.text)), "byte"), cite.Num("most", maxFile, "byte"))
		return nil
	case len(bytes.TrimSpace(d.text)) == 0:
		d.tell(-1, "", "", "route.empty")
		return nil
	case !utf8.Valid(d.text) || bytes.IndexByte(d.text, 0) >= 0:
		d.tell(-1, "", "", "route.not-text")
		return nil
	}
	d.text = bytes.TrimPrefix(d.text, []byte("\ufeff"))
	root := document(d.text, d.tell)
	if len(*d.problems) > 0 && len(root.keys) == 0 {
		return nil
	}
	return root
}

// format reports whether the file is of a version that can be read.
func (d *decoder) format(root *node) bool {
	f := root.fields["format"]
	if f == nil {
		d.tell(0, "format", "", "route.no-format")
		return true
	}
	n, err := strconv.Atoi(f.text)
	switch {
	case f.kind != aNumber || err != nil || n < 1:
		d.tell(f.at, "format", f.text, "route.bad-format")
	case n > Format:
		d.tell(f.at, "format", f.text, "route.newer-format", cite.Txt("newest", strconv.Itoa(Format)))
		return false
	}
	return true
}

func (d *decoder) unitOfShop(s *node) {
	if u := s.fields["degrees"]; u != nil && (u.text == "C" || u.text == "F") {
		d.degrees = u.text
	}
}
