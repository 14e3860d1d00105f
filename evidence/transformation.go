package evidence

import (
	"context"
	"io/fs"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
)

const zero = 273.15 // 0 °C [K]

// msSet scores the martensite start that micro gives for a bar of that composition.
func msSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("scope", "c_wt", "ms_c"); err != nil {
		return nil, err
	}
	make := func(subset string) *sample {
		claim := "micro.ms"
		if subset == "tool" {
			claim = "micro.ms-tool"
		}
		return newSample("ms", subset, "°C", "micro.MartensiteStart", names(msFormulas)...).claims(micro.Accuracy(), claim)
	}
	low := make("low_alloy, C < 0.6")
	high := make("low_alloy and tool, 0.5-1.1 C")
	tool := make("tool")
	all := make("low_alloy and tool")
	other := make("other")
	for _, r := range t.rows {
		measured, ok := r.num("ms_c")
		carbon, ok2 := r.num("c_wt")
		scope := r.text("scope")
		if !ok || !ok2 {
			all.leave("no temperature or no carbon")
			continue
		}
		c, x := r.composition(), extraOf(r)
		predicted := micro.MartensiteStart(c, micro.Trace{Co: x.co, Al: x.al}) - zero
		rivals := values(msFormulas, c, x)
		if scope != "low_alloy" && scope != "tool" {
			other.add(predicted, measured, rivals...)
			continue
		}
		all.add(predicted, measured, rivals...)
		if scope == "tool" {
			tool.add(predicted, measured, rivals...)
		}
		if scope == "low_alloy" && carbon < 0.6 {
			low.add(predicted, measured, rivals...)
		}
		if carbon >= 0.5 && carbon <= 1.1 {
			high.add(predicted, measured, rivals...)
		}
	}
	list := finish(low, high, tool, all, other)
	for i := range list {
		s := &list[i]
		best := s.best()
		switch s.Subset {
		case low.score.Subset:
			s.aim("MAE at most 0.95 of the best published formula, median at most 9 °C", s.MAE <= 0.95*best && s.Median <= 9)
		case high.score.Subset:
			s.aim("MAE at most 0.90 of the best published formula, median at most 14 °C", s.MAE <= 0.90*best && s.Median <= 14)
		case other.score.Subset:
			s.Remark = "Fe-Ni, maraging, stainless, high nitrogen: outside of what the model covers; shown so that nobody uses it there"
		}
	}
	return list, nil
}

// bsSet scores the bainite start.
func bsSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("c_wt", "bs_c"); err != nil {
		return nil, err
	}
	all := newSample("bs", "all", "°C", "micro.BainiteStart", names(bsFormulas)...).claims(micro.Accuracy(), "micro.bs")
	for _, r := range t.rows {
		measured, ok := r.num("bs_c")
		if !ok {
			all.leave("no temperature")
			continue
		}
		c := r.composition()
		all.add(micro.BainiteStart(c)-zero, measured, values(bsFormulas, c, extraOf(r))...)
	}
	list := finish(all)
	for i := range list {
		list[i].aim("MAE at most 17 °C", list[i].MAE <= 17)
	}
	return list, nil
}

// claim returns the accuracy of that model.
func claim(all []cite.Accuracy, model string) (cite.Accuracy, bool) {
	for _, a := range all {
		if a.Model == model {
			return a, true
		}
	}
	return cite.Accuracy{}, false
}
