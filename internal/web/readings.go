package web

import (
	"fmt"
	"math"
	"strings"

	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/unit"
)

// notKnown is a band of hardness so wide that nobody knows how hard the zone is [HRC].
const notKnown = 10

// hardnessMarks returns the hardness of every zone for the drawing, and all of
// it in one sentence.
func hardnessMarks(a *worked, by *sayer) ([]drawing.Mark, string) {
	who := by.who
	var marks []drawing.Mark
	var said []string
	for _, z := range a.history.Zones {
		m := drawing.Mark{Zone: z.Name, Text: who.w("under-20"), Ink: 0, Href: by.href("hard")}
		if z.HardnessHRC != nil {
			m.Text = fmt.Sprintf("%.0f", z.HardnessHRC.Value)
			if wide := (z.HardnessHRC.High - z.HardnessHRC.Low) / 2; wide >= 0.5 {
				m.Text += fmt.Sprintf(" ±%.0f", wide)
			}
			m.Hidden = z.HardnessHRC.High-z.HardnessHRC.Low >= notKnown
			m.Ink = max(0, min(1, (z.HardnessHRC.Value-20)/48))
		}
		said = append(said, z.Name+" "+m.Text)
		marks = append(marks, m)
	}
	return marks, who.w("hardness") + ": " + strings.Join(said, ", ") + " HRC"
}

func dashed(s string) string { return strings.ReplaceAll(strings.ToLower(s), " ", "-") }

// caliper writes the measures of a drawing, which come from the plan.
func (who reader) caliper(by *sayer) drawing.Caliper {
	return drawing.Caliper{Text: func(m float64) string {
		if who.Units == unit.Imperial { // as a rule is read
			const least = 0.0254 / 64
			m = least * math.Max(1, math.Round(m/least))
		}
		text := unit.Length(m).Text(who.Units)
		if number, name, ok := strings.Cut(text, " "); ok && strings.Contains(number, ".") {
			text = strings.TrimRight(strings.TrimRight(number, "0"), ".") + " " + name
		}
		return text
	}, Href: by.href("plan")}
}
