package render

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// partWords are words for parts that only some units have, each with the
// features of which at least one must be there ("a+b" means both). The words
// are compared in small letters.
var partWords = []struct {
	word *regexp.Regexp
	any  []string
}{
	{regexp.MustCompile(`\bspring (hanger|bolt)s?\b|\bu-bolts?\b|\bshackles?\b|\bleaf\b`), []string{"leaf-springs"}},
	{regexp.MustCompile(`\bequalizers?\b`), []string{"equalizers"}},
	{regexp.MustCompile(`\baxle brackets?\b|\barms of one axle\b`), []string{"torsion"}},
	{regexp.MustCompile(`\bthe pump\b`), []string{"hydraulics", "jack-hydraulic", "electric-over-hydraulic"}},
	{regexp.MustCompile(`\bpower unit\b|\bfluid level\b`), []string{"hydraulics", "jack-hydraulic"}},
	{regexp.MustCompile(`\blowering valve\b`), []string{"manual-lowering+!hand-pump"}},
	{regexp.MustCompile(`\bhand pump\b`), []string{"hand-pump"}},
	{regexp.MustCompile(`\bhydraulic\b|\bfluid\b|\bcylinders?\b`), []string{"hydraulics", "cushion", "hydraulic-brakes", "jack-hydraulic"}},
	{regexp.MustCompile(`\bhand control\b`), []string{"hydraulics", "winch"}},
	{regexp.MustCompile(`\bmaster disconnect\b|\bturn the power (on|off)\b|\bswitch the power off\b`), []string{"master-disconnect"}},
	{regexp.MustCompile(`\bmain battery\b`), []string{"deep-cycle-battery"}},
	{regexp.MustCompile(`\bthe hinge\b`), []string{"tilting", "dump"}},
	{regexp.MustCompile(`\bdeck lock\b`), []string{"deck-lock"}},
	{regexp.MustCompile(`\btilt latch\b`), []string{"tilt-latch"}},
	{regexp.MustCompile(`\bcushion\b`), []string{"cushion"}},
	{regexp.MustCompile(`\b(body|the|each) props?\b`), []string{"body-prop"}},
	{regexp.MustCompile(`\bwinch plate\b`), []string{"winch-plate"}},
	{regexp.MustCompile(`\bthe winch (pulls|rope|has|drains)\b`), []string{"winch"}},
	{regexp.MustCompile(`\bwinch\b`), []string{"winch", "winch-plate", "winch-stand", "spare-hoist"}},
	{regexp.MustCompile(`\bcells\b`), []string{"flooded-battery"}},
	{regexp.MustCompile(`\bdeck\b`), []string{"decked"}},
	{regexp.MustCompile(`\b(box floor|dump box)\b`), []string{"dump"}},
	{regexp.MustCompile(`\bmove the load\b|\bunload (it|the trailer) where\b`), []string{"!livestock+!boat"}}, // neither animals nor a boat are shifted at a roadside
	{regexp.MustCompile(`\btarp\b`), []string{"tarp"}},
	{regexp.MustCompile(`\b(hub )?windows?\b of (a|the|each) (hub|cap)|\bhub windows?\b|\bgear oil\b|\bhub oil\b`), []string{"hubs-oil-bath"}},
	{regexp.MustCompile(`\bgrease caps?\b`), []string{"hubs-ported", "hubs-repack", "hubs-sealed"}},
	{regexp.MustCompile(`\bramps?\b`), []string{"ramps", "boat"}},
	{regexp.MustCompile(`\bthe (ramp )?gate\b`), []string{"ramp-gate", "gate-barn", "gate-spreader", "livestock"}},
	{regexp.MustCompile(`\bstabilizers?\b`), []string{"stabilizers"}},
	{regexp.MustCompile(`\bclamping ring\b`), []string{"clamping-ring"}},
	{regexp.MustCompile(`\bthe spare\b`), []string{"spare"}},
	{regexp.MustCompile(`\bbreakaway (lanyard|test)\b`), []string{"braked"}},
	{regexp.MustCompile(`\blinings?\b`), []string{"drum-brakes"}},
	{regexp.MustCompile(`\bfront axle\b`), []string{"!single-axle"}},
	{regexp.MustCompile(`\bbreakaway (switch|battery|pin)\b`), []string{"breakaway-battery"}},
	{regexp.MustCompile(`\bbrake controller\b|\bgain\b`), []string{"controlled-brakes", "surge-brakes"}}, // a surge-braked unit is told that it needs none
	{regexp.MustCompile(`\bmagnets?\b`), []string{"electric-brakes", "electric-over-hydraulic"}},         // whose controller must not be one for magnets
	{regexp.MustCompile(`\bdrums?\b`), []string{"drum-brakes", "winch"}},
	{regexp.MustCompile(`\brotors?\b|\bbrake pads?\b`), []string{"disc-brakes"}},
	{regexp.MustCompile(`\bcalipers?\b`), []string{"disc-brakes", "pintle", "kingpin"}}, // the one of a brake, or the one that measures a ring or a kingpin
	{regexp.MustCompile(`\bactuator\b|\bbrake fluid\b`), []string{"hydraulic-brakes"}},
	{regexp.MustCompile(`\bbreakaway lever\b|\bslide of the actuator\b`), []string{"surge-brakes"}},
	{regexp.MustCompile(`\block-out pin\b`), []string{"reverse-pin"}},
	{regexp.MustCompile(`\bfront (storage )?box\b`), []string{"front-box"}},
	{regexp.MustCompile(`\bunderbody box\b`), []string{"underbody-box"}},
	{regexp.MustCompile(`\bstorage box(es)?\b`), []string{"front-box", "underbody-box"}},
	{regexp.MustCompile(`\bheadache rack\b`), []string{"headache-rack"}},
	{regexp.MustCompile(`\brub rails?\b`), []string{"rub-rails"}},
	{regexp.MustCompile(`\bstake pockets?\b`), []string{"stake-pockets"}},
	{regexp.MustCompile(`\bd-rings?\b`), []string{"d-rings"}},
	{regexp.MustCompile(`\bcenter gate\b`), []string{"center-gate"}},
	{regexp.MustCompile(`\b(cattle|livestock|manure gate|hooves)\b`), []string{"livestock"}},
	{regexp.MustCompile(`\bescape door\b`), []string{"escape-door"}},
	{regexp.MustCompile(`\bmats\b`), []string{"floor-mats"}},
	{regexp.MustCompile(`\bsolar\b|\bthe panel\b`), []string{"solar-charger"}},
	{regexp.MustCompile(`\blithium (iron|battery|batteries)\b`), []string{"lithium-battery"}},
	{regexp.MustCompile(`\bcharge line\b`), []string{"charge-line"}},
	{regexp.MustCompile(`\bacid (is|off)\b`), []string{"lead-battery"}},
	{regexp.MustCompile(`\be-track\b`), []string{"e-track"}},
	{regexp.MustCompile(`\bside door\b`), []string{"side-door"}},
	{regexp.MustCompile(`\broof vent\b`), []string{"roof-vent"}},
	{regexp.MustCompile(`\bbunks?\b|\bhulls?\b|\btransom\b|\bbow (chain|stop)\b|\bhand winch\b`), []string{"boat"}},
	{regexp.MustCompile(`\bfeeds the breakaway battery alone\b`), []string{"!electric-over-hydraulic"}},
	{regexp.MustCompile(`\b(stow|set up) the ramps\b|\beach door opens\b|\blet the door be shut\b|\bopened a door\b|\bdoors hooked\b`), []string{"!ramp-gate"}}, // one gate, which opened from within falls outward and hooks to nothing
	{regexp.MustCompile(`\bneeds a permit\b|\bsticks out past\b|\bstones, tools and ice\b`), []string{"!enclosed"}},
	{regexp.MustCompile(`\blift the wheel onto a stand\b`), []string{"!livestock"}}, // animals shift on a jack: help with pens comes first
	{regexp.MustCompile(`\bdrop legs?\b`), []string{"jack-drop-leg"}},
	{regexp.MustCompile(`\bswing pin\b`), []string{"jack-swivel"}},
	{regexp.MustCompile(`\bjack foot\b|\bset the foot\b|\bthe foot presses\b`), []string{"!jack-wheel"}},
	{regexp.MustCompile(`\bbed anchors?\b`), []string{"gooseneck"}},
	{regexp.MustCompile(`\bcoupling height\b`), []string{"coupler-adjustable"}},
	{regexp.MustCompile(`\bneck\b`), []string{"gooseneck", "kingpin"}},
	{regexp.MustCompile(`\bkingpins?\b|\bfifth wheel\b`), []string{"kingpin"}},
	{regexp.MustCompile(`\b(the|both|its|each) chains?\b`), []string{"safety-chains"}},
	{regexp.MustCompile(`\bball mount\b`), []string{"bumper-pull+ball-coupler"}},
	{regexp.MustCompile(`\bball\b|\bsockets? (is|of the coupler)\b`), []string{"ball-coupler"}},
	{regexp.MustCompile(`\bpintle\b|\bthe ring (lies|is)\b`), []string{"pintle"}},
	// What couples any trailer is the coupling; its weight is the coupler weight on all.
	{regexp.MustCompile(`\bcouplers?\b([^ -]|$| [^wsa]| a[^n]| w[^e])`), []string{"ball-coupler"}},
	{regexp.MustCompile(`\bfixed front deck\b`), []string{"fixed-front"}},
	{regexp.MustCompile(`\bthe box\b`), []string{"dump", "front-box", "underbody-box"}},
}

// elsewhere are sections that may name a part the unit lacks: options in the
// words of the line, texts of the law, formulas.
var elsewhere = []string{"as-built", "changes", "statements", "load-limit-steps", "tire-words"}

// partWordsIn finds which of partWords a text uses, and as what. Units share most
// of their texts, so each is looked through once.
func partWordsIn(text string) map[int]string {
	if known, ok := lookedThrough.Load(text); ok {
		return known.(map[int]string)
	}
	uses := map[int]string{}
	for i, w := range partWords {
		if found := w.word.FindString(strings.ToLower(text)); found != "" {
			uses[i] = found
		}
	}
	lookedThrough.Store(text, uses)
	return uses
}

var lookedThrough sync.Map

// namesNoAbsentPart checks every text of a guide against the features of its
// unit, and notes which words of partWords the guide uses.
func namesNoAbsentPart(t *testing.T, g *doc.Guide, has func(string) bool, used map[int]bool) {
	t.Helper()
	there := make([]bool, len(partWords))
	for i, w := range partWords {
		there[i] = slices.ContainsFunc(w.any, func(all string) bool { return holdsAll(all, has) })
	}
	eachText(g, func(at source.Pos, text string) {
		for i, found := range partWordsIn(text) {
			if there[i] {
				used[i] = true
			} else {
				t.Errorf("%s: %q is no part of this unit (it has none of %v): %q", at, found, partWords[i].any, text)
			}
		}
	})
}

func holdsAll(all string, has func(string) bool) bool {
	for _, f := range strings.Split(all, "+") {
		if name, not := strings.CutPrefix(f, "!"); has(name) == not {
			return false
		}
	}
	return true
}

// eachText visits what an owner reads: paragraphs, list items, cells, headings, panels.
func eachText(g *doc.Guide, visit func(at source.Pos, text string)) {
	eachNode(g.Sections, func(in *doc.Section, n doc.Node) {
		if slices.ContainsFunc(elsewhere, func(id string) bool { return in.ID == id || strings.HasPrefix(in.ID, id+"-") }) {
			return
		}
		for _, run := range runs(n) {
			visit(in.Origin, doc.PlainText(run...))
		}
	})
}
