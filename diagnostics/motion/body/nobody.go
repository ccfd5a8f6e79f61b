package body

// noBodyWords are whole words that begin or end like a part of a body and are none:
// people, tools and what stands about in a shot. They are looked at before body
// words are looked for inside a token. Common practice, no source.
var noBodyWords = wordSet(
	"deckhand", "deckhands", "stagehand", "farmhand", "handle", "handles", "handrail", "handlebar", "handlebars", "handbag", "handwheel",
	"handcart", "handset", "handbrake", "handhold", "handcrank", "headlight", "headlights", "headlamp", "headset", "headphones", "headrest",
	"header", "bulkhead", "figurehead", "masthead", "overhead", "warhead", "showerhead", "armrest", "armchair", "footage", "football",
	"footstool", "footboard", "footprint", "footprints", "footlight", "footbridge", "footrest", "backpack", "backdrop", "background",
	"backboard", "backrest", "hatchback", "taillight", "tailgate", "tailor", "detail", "details", "cocktail", "wingnut", "wingman", "chestnut",
	"palmtree", "browser", "bottleneck", "coatrack", "spineboard", "linear", "liner", "airliner", "outline", "pipeline", "shoulderbag",
	"fingerprint", "thumbnail", "thumbtack", "kneeler", "earth", "lidar",
)

func wordSet(words ...string) map[string]bool {
	set := make(map[string]bool, len(words))
	for _, w := range words {
		set[w] = true
	}
	return set
}
