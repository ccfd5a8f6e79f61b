package corpus

import (
	"bytes"
	"fmt"
	"io"
	"math"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/config"
)

// Kind says what a case is for.
type Kind uint8

// The kinds of cases.
const (
	Flaw    Kind = iota // one flaw is planted
	Near                // the same motion, properly animated
	Natural             // natural motion of some kind
)

// Case is one scene of the corpus.
type Case struct {
	Name string
	Kind Kind
	// Check is the check that the flaw or the near miss is about, "" for
	// natural motion.
	Check string
	Rate  float64
	File  string // name with the format's extension
	Text  []byte
	// Config is what a person says of the shot.
	Config config.Config
	// Label is the planted flaw; frames count from the scene's first frame.
	Label       designed.Label
	First, Last int
	Seed        int
	digits      int // decimals more than usual
}

// Held reports whether the case is in the half that is kept back.
func (c *Case) Held() bool { return c.Seed%2 == 1 }

// planter puts a figure on an empty stage, adds the motion under test, flawed or
// proper, and labels the flaw.
type planter func(s *stage, flawed bool)

type writer struct {
	ext   string
	write func(io.Writer, *designed.Take) error
}

var (
	anyFormat   = []writer{{".usda", write.USDA}, {".usda", write.USDASkeleton}, {".bvh", write.BVH}, {".gltf", write.GLTF}, {".dae", write.COLLADA}, {".x3d", write.X3D}, {".csv", write.Table}, {".usda", write.USDASparse}, {".usda", write.USDASplines}, {".usda", write.USDAMixed}}
	metred      = []writer{{".usda", write.USDA}, {".usda", write.USDASkeleton}, {".gltf", write.GLTF}, {".dae", write.COLLADA}} // formats that know their unit
	between     = []writer{{".usda", write.USDA}, {".dae", write.COLLADA}}                                                       // formats that can carry a wrapped angle
	rates       = []float64{24, 25, 30, 24, 48, 60}
	habits      = []designed.Naming{designed.Snake, designed.Camel, designed.Prefixed("ferry:"), designed.Letter}
	units       = []float64{0.01, 1, 0.0254}
	withWeights = []writer{{".usda", write.USDASkeleton}, {".gltf", write.GLTF}, {".csv", write.Table}} // formats whose writers have shape weights
)

// Form says in which form a case is written; the zero value leaves all to the seed.
type Form struct {
	Ext string // ".bvh"; a check that the format cannot carry keeps its own
	// Before and After are how many seconds around the planted flaw are kept, all
	// when both are 0.
	Before, After float64
	Rate          float64 // frames per second, of a flaw that has no rate of its own
	// Pace is how many times slower everything goes and Amount how many times
	// larger the parts' own motion is; 0 is 1.
	Pace, Amount float64
	// Digits is how many decimals more than usual are written, or fewer.
	Digits int
}

// Make makes the flawed or the proper case of a check for a seed.
func Make(check string, seed int, flawed bool) (Case, error) {
	return MakeIn(Form{}, check, seed, flawed)
}

// MakeIn is Make in a form.
func MakeIn(form Form, check string, seed int, flawed bool) (Case, error) {
	p, ok := planters[check]
	if !ok {
		return Case{}, fmt.Errorf("no planter for %q", check)
	}
	return makeBy(form, check, seed, flawed, p)
}

// makeBy makes a case with a planter.
func makeBy(form Form, check string, seed int, flawed bool, p planter) (Case, error) {
	r := designed.Seed(uint64(seed)*2654435761 + uint64(len(check))*97 + uint64(check[0]))
	s := newStage(designed.Seed(r.Next()), habits[r.Int(len(habits))])
	s.rate = rates[r.Int(len(rates))]
	if form.Rate > 0 {
		s.rate = form.Rate
	}
	p(s, flawed) // some planters have rates of their own
	c := Case{Check: check, Kind: Near, Seed: seed, Config: s.config}
	if flawed {
		c.Kind, c.Label = Flaw, s.label
	}
	w := s.formats[r.Int(len(s.formats))]
	rate, shot := s.rate, s.Shot.InUnits(units[r.Int(len(units))])
	if r.Chance(0.3) {
		shot = shot.ZUp()
	}
	w = form.among(s.formats, w, &r)
	shot = form.shape(shot, s.label.From, s.label.To, rate)
	c.digits = form.Digits
	c.Name = fmt.Sprintf("%s-%d-%s", check, seed, map[bool]string{true: "flaw", false: "near"}[flawed])
	return c, c.fill(shot, rate, w)
}

// among returns a writer of the form's format, w when there is none or the form
// leaves it open.
func (f Form) among(all []writer, w writer, r *designed.Seed) writer {
	var fit []writer
	for _, x := range all {
		if x.ext == f.Ext {
			fit = append(fit, x)
		}
	}
	if len(fit) == 0 {
		return w
	}
	return fit[r.Int(len(fit))]
}

// shape gives a shot the form's pace, strength and length around what happens
// between two times of the shot as it was designed.
func (f Form) shape(shot *designed.Shot, from, to, rate float64) *designed.Shot {
	pace := 1.0
	if f.Pace > 0 {
		pace = f.Pace
		shot = shot.Slower(pace)
	}
	if f.Amount > 0 {
		shot = shot.Stronger(f.Amount)
	}
	if f.Before+f.After > 0 {
		from, to = max(0, pace*from-f.Before), min(shot.Length, pace*to+f.After)
		shot = shot.Cut(math.Round(from*rate)/rate, to)
	}
	return shot
}

// MakeNatural makes a scene of natural motion.
func MakeNatural(k natural.Kind, seed int) (Case, error) { return MakeNaturalIn(Form{}, k, seed) }

// MakeNaturalIn is MakeNatural in a form, which keeps Before and After seconds
// around the middle.
func MakeNaturalIn(form Form, k natural.Kind, seed int) (Case, error) {
	r := designed.Seed(uint64(seed)*40503 + 7)
	shot := natural.Shot(k, natural.Options{Seed: designed.Seed(r.Next()), Seconds: 8, Names: habits[r.Int(len(habits))]})
	c := Case{Name: fmt.Sprintf("%s-%d", k, seed), Kind: Natural, Seed: seed, digits: form.Digits}
	rate, w := rates[r.Int(len(rates))], anyFormat[r.Int(len(anyFormat))]
	if form.Rate > 0 {
		rate = form.Rate
	}
	mid := shot.Length / 2
	return c, c.fill(form.shape(shot, mid, mid, rate), rate, form.among(anyFormat, w, &r))
}

func (c *Case) fill(shot *designed.Shot, rate float64, w writer) error {
	take := shot.Take(rate)
	take.MoreDigits += c.digits
	var b bytes.Buffer
	if err := w.write(&b, take); err != nil {
		return fmt.Errorf("%s: %w", c.Name, err)
	}
	c.Rate, c.File, c.Text = rate, c.Name+w.ext, b.Bytes()
	if c.Kind == Flaw {
		first, last := c.Label.Frames(take)
		c.First, c.Last = first-take.First, last-take.First
	}
	return nil
}
