package walls

// owner is a module that one package of ours alone may touch.
type owner struct{ module, owner string }

// owners keep what is hard to replace, and what cannot be tested without a
// display, behind one package each.
func owners() []owner {
	return []owner{
		{"github.com/asdine/storm/v3", "model/store"},
		{"go.etcd.io/bbolt", "model/store"},
		{"github.com/jung-kurt/gofpdf", "export/pdf"},
		{"github.com/xuri/excelize/v2", "export/table"},
		{"fyne.io/fyne/v2/app", "cmd/coilward"},
	}
}

// rooms say for every package of ours what it may import; the first pattern
// that fits holds. Beside it everything may import the standard library, but
// for the network.
func rooms() []room {
	rules := []string{"model", "model/body", "model/knowledge", "model/stats"}
	values := []string{"model", "model/drawing", "model/pixel", "model/body", "model/chart", "ui/look", "ui/widgets/..."}
	facts := []string{"assets", "model", "model/animals", "model/body", "model/care", "model/chart", "model/drawing", "model/exam", "model/history",
		"model/knowledge", "model/meals", "model/people", "model/photo", "model/weight", "model/wording"}
	page := append([]string{"export/handover", "model/handover", "model/atease", "model/welfare", "model/assumed", "model/chances", "model/evidence", "model/evidence/plan", "model/written", "model/droppings", "model/feeders", "model/shedding", "model/collection", "model/comparing", "model/contact", "model/demo", "model/draft", "model/due", "model/holidays", "model/husbandry", "model/jot", "model/label", "model/medicine", "model/newcomers", "model/pixel", "model/positives", "model/powercut", "model/quarantine", "model/rescue", "model/round", "model/samples", "export/calendar", "export/paper", "export/pdf", "ui/jotting", "ui/look", "ui/particulars", "ui/place", "ui/signing", "ui/widgets/..."}, facts...)
	window := []string{"fyne.io/fyne/v2", "github.com/dweymouth/fyne-tooltip", "golang.org/x/image", "golang.org/x/text"}
	return []room{
		{"assets", nil, nil, "assets are files and nothing beside"},
		{"model", nil, nil, "the vocabulary needs the standard library alone"},
		{"model/drawing", nil, nil, "the pen knows no animal and no library"},
		{"model/pixel", []string{"model/drawing"}, nil, "a picture of pixels is one of the pens"},
		{"model/body", []string{"model", "model/drawing"}, nil, "the body is geometry, drawn with the pen"},
		{"model/chart", []string{"model", "model/body", "model/drawing"}, nil, "a chart is laid out from values and drawn with the pen"},
		{"model/knowledge", []string{"model", "model/body"}, nil, "tables name places of the body and nothing beside"},
		{"model/stats", nil, []string{"gonum.org/v1/gonum"}, "statistics know numbers alone"},
		{"model/survey", nil, nil, "a survey knows numbers alone"},
		{"model/care", rules, []string{"github.com/shopspring/decimal"}, rulesAlone},
		{"model/animals", rules, []string{"golang.org/x/text"}, rulesAlone},
		{"model/exam", rules, nil, rulesAlone},
		{"model/people", rules, nil, rulesAlone},
		{"model/husbandry", rules, nil, rulesAlone},
		{"model/climate", rules, nil, rulesAlone},
		{"model/indoors", append([]string{"model/animals", "model/care", "model/climate", "model/husbandry", "model/powercut"}, rules...), nil, "the climate of a place is joined from readings, instruments and power cuts, and held against sheds and meals"},
		{"model/samples", append([]string{"model/holidays"}, rules...), nil, "samples know the rules, and on which days parcels lie still"},
		{"model/medicine", append([]string{"model/care", "model/husbandry", "model/people"}, rules...), []string{"github.com/shopspring/decimal"}, "a dose is worked out by a weighing, on a scale that may have failed, and prescribed by one who is a vet"},
		{"model/holidays", []string{"model"}, []string{"github.com/rickar/cal/v2"}, "holidays know days alone"},
		{"model/contact", rules, nil, rulesAlone},
		{"model/positives", append([]string{"model/animals", "model/contact", "model/exam", "model/husbandry", "model/samples", "model/welfare"}, rules...), nil, "a positive is joined with where the animals lived and what their samples said"},
		{"model/assumed", append([]string{"model/evidence"}, rules...), nil, "figures are held against the engine that works with them"},
		{"model/chances", append([]string{"model/animals", "model/assumed", "model/contact", "model/evidence", "model/evidence/plan", "model/husbandry", "model/positives", "model/quarantine", "model/samples"}, rules...), nil, "what samples prove is joined from animals, samples, quarantines and positives"},
		{"model/quarantine", rules, nil, rulesAlone},
		{"model/newcomers", append([]string{"model/animals", "model/care", "model/contact", "model/exam", "model/history", "model/husbandry", "model/positives", "model/quarantine", "model/samples", "model/weight"}, rules...), nil, "what is known of a newcomer is joined for the rules of its quarantine and nothing beside"},
		{"model/weight", rules, nil, rulesAlone},
		{"model/evidence", []string{"model"}, []string{"gonum.org/v1/gonum"}, "what tests prove is worked out of numbers and days alone"},
		{"model/evidence/plan", []string{"model", "model/evidence"}, []string{"gonum.org/v1/gonum"}, "a plan asks what tests would prove, and knows numbers and days alone"},
		{"model/weight/trial", append([]string{"model/weight"}, rules...), []string{"gonum.org/v1/gonum"}, "a trial asks the rule and knows the noise"},
		{"model/infested", append([]string{"model/animals", "model/care", "model/husbandry"}, rules...), nil, "where mites are watched for follows from looks and from where those lived that they were seen on"},
		{"model/round", append([]string{"model/animals", "model/care", "model/contact", "model/due", "model/exam", "model/history", "model/husbandry", "model/infested", "model/positives", "model/powercut"}, rules...), nil, "the order of a round follows from classes, and these from records, house, positives and power cuts"},
		{"model/powercut", append([]string{"model/animals", "model/care", "model/exam", "model/history", "model/husbandry"}, rules...), nil, "a power cut is of those who lived there, and its watch ends by their checks"},
		{"model/rescue", append([]string{"model/animals", "model/care", "model/exam", "model/history", "model/husbandry", "model/infested", "model/medicine", "model/positives", "model/powercut", "model/round"}, rules...), nil, "the order of rescue follows from records, house and classes"},
		{"model/atease", append([]string{"model/animals", "model/care", "model/exam", "model/history", "model/husbandry", "model/medicine", "model/positives", "model/quarantine", "model/welfare"}, rules...), nil, "how an animal is, is joined from its records, its house and what stands against it"},
		{"model/welfare", append([]string{"model/care"}, rules...), nil, "how an animal feels is read from its visits; the day of an entry is asked about as care asks"},
		{"model/written", append([]string{"model/animals", "model/care", "model/exam", "model/husbandry", "model/label", "model/round"}, rules...), nil, "what is typed in from a sheet becomes a check, a weighing or a round"},
		{"model/history", append([]string{"model/animals", "model/care", "model/exam", "model/husbandry", "model/weight", "model/welfare"}, rules...), nil, "the records of one animal are joined for the rules and nothing beside"},
		{"model/feeders", append([]string{"model/care"}, rules...), nil, "the stock of prey is read from its batches and the meals of them"},
		{"model/shedding", append([]string{"model/care"}, rules...), nil, "the sheds of one animal are read from its entries and nothing beside"},
		{"model/droppings", append([]string{"model/care"}, rules...), nil, "the droppings of one animal are read from its entries and nothing beside"},
		{"model/meals", append([]string{"model/animals", "model/care", "model/feeders", "model/history"}, rules...), nil, "a meal is held against the records of the animal and nothing beside"},
		{"model/due", append([]string{"model/infested", "model/powercut", "model/droppings", "model/feeders", "model/shedding", "model/medicine", "model/animals", "model/care", "model/contact", "model/exam", "model/history", "model/husbandry", "model/newcomers", "model/quarantine", "model/positives", "model/samples", "model/weight"}, rules...), nil, "what is due is derived from what the capabilities know"},
		{"model/comparing", []string{"model", "model/animals", "model/collection", "model/husbandry", "model/people", "model/quarantine", "model/photo"}, nil, "what two states of a collection differ in is named by the capabilities; it knows no store and no text"},
		{"model/importing", []string{"model", "model/animals", "model/care", "model/husbandry", "model/knowledge", "model/people", "model/samples"}, nil, "importing joins what the capabilities say of each row"},
		{"model/jot", []string{"model", "model/animals", "model/care", "model/husbandry", "model/knowledge", "model/meals", "model/medicine"}, nil, "a line names animals and says entries of everyday care, whose words are its vocabulary, or a question to a vet; it knows no text and no store"},
		{"model/photo", []string{"model", "model/disk", "model/label"}, []string{"github.com/disintegration/imaging", "github.com/gen2brain/heic", "github.com/makiuchi-d/gozxing",
			"github.com/rwcarlsen/goexif", "github.com/skip2/go-qrcode", "golang.org/x/image"}, "photos are files with a name"},
		{"model/label", []string{"model", "model/knowledge"}, nil, "a label is an id with its kind; sheets are rows of a table"},
		{"model/disk", []string{"model"}, []string{"github.com/natefinch/atomic", "golang.org/x/sys"}, "files are written whole; what is in them is not known here"},
		{"model/draft", []string{"model", "model/disk"}, nil, "drafts are files with a name"},
		{"model/wording", []string{"model"}, []string{"github.com/nicksnyder/go-i18n/v2", "golang.org/x/text"}, "texts are said of values of the vocabulary"},
		{"model/collection", []string{"model"}, []string{"github.com/google/uuid"}, "the kernel knows documents and no capability"},
		{"model/store", []string{"model", "model/collection", "model/disk"}, []string{"github.com/asdine/storm/v3", "go.etcd.io/bbolt", "golang.org/x/sys"},
			"the store keeps documents and knows no capability"},
		{"model/memory", []string{"model", "model/collection"}, nil, "the store in memory keeps documents and knows no capability"},
		{"model/storetest", []string{"model", "model/collection", "model/memory"}, []string{"pgregory.net/rapid"}, "the suite takes any store"},
		{"model/registry", []string{"model", "model/handover", "model/assumed", "model/powercut", "model/feeders", "model/written", "model/animals", "model/care", "model/climate", "model/contact", "model/due", "model/exam", "model/husbandry", "model/importing", "model/jot", "model/knowledge", "model/medicine", "model/meals", "model/newcomers", "model/people", "model/quarantine", "model/round", "model/samples", "model/welfare"}, nil, "the registry lists commands, holds documents against what they name, and does nothing"},
		{"model/demo", append([]string{"model/welfare", "model/climate", "model/due", "model/powercut", "model/round", "model/feeders", "model/meals", "model/medicine", "model/collection", "model/contact", "model/husbandry", "model/newcomers", "model/pixel", "model/quarantine", "model/samples"}, facts...), nil, "the sample collection is made by the same commands as any other"},
		{"export/calendar", []string{"model", "model/disk", "model/due", "model/wording"}, []string{"github.com/emersion/go-ical"}, "a calendar is days and what is due on them"},
		{"export/paper", append([]string{"model/climate", "model/indoors", "model/atease", "model/welfare", "model/chances", "model/evidence", "model/powercut", "model/rescue", "model/round", "model/written", "model/medicine", "model/contact", "model/due", "model/husbandry", "model/label", "model/newcomers", "model/positives", "model/quarantine", "model/samples"}, facts...), []string{"github.com/skip2/go-qrcode", "golang.org/x/image", "golang.org/x/text"}, "a paper is blocks of facts and knows no PDF, store or screen"},
		{"export/papertest", append([]string{"export/paper", "model/chances", "model/evidence", "model/samples"}, facts...), []string{"github.com/pdfcpu/pdfcpu"}, "what tests of papers share knows papers and facts"},
		{"export/logger", []string{"model", "model/climate", "model/wording"}, []string{"golang.org/x/text"}, "files of loggers become readings; nothing is written"},
		{"export/table", append([]string{"model/importing", "model/collection", "model/feeders", "model/husbandry", "model/samples", "model/disk"}, facts...), []string{"github.com/xuri/excelize/v2", "golang.org/x/text"},
			"a spreadsheet is cells of facts and knows no screen or store"},
		{"model/handover", append([]string{"model/animals", "model/care", "model/exam", "model/husbandry", "model/medicine", "model/newcomers", "model/people", "model/quarantine", "model/samples"}, rules...), nil, "what is told of an animal to its next keeper is joined from what the capabilities keep of it"},
		{"export/handover", append([]string{"export/paper", "export/pdf", "model/disk", "model/handover", "model/samples", "model/quarantine"}, facts...), []string{"filippo.io/age", "golang.org/x/text"}, "her papers are a file of facts and know no screen or store"},
		{"export/lines", []string{"model/disk"}, nil, "the schema of lines is a file and knows no fact"},
		{"export/pdf", []string{"assets", "export/paper", "model", "model/disk", "model/drawing"}, []string{"github.com/jung-kurt/gofpdf", "golang.org/x/image"},
			"the PDF draws blocks and knows no fact"},
		{"ui/look", []string{"assets", "model/drawing"}, window, "the look is colours, sizes and faces"},
		{"ui/widgets/...", values, window, "widgets know values alone"},
		{"ui/place", page, window, "what a place may ask of the window names no place"},
		{"ui/uitest", append([]string{"model/storetest", "ui/shell"}, page...), window, "the hand of the tests knows no place"},
		{"ui/shell", page, window, "the window is told of its places by the program"},
		{"ui/climate", append([]string{"export/logger", "model/climate", "model/indoors", "model/welfare"}, page...), window, "this place brings files of loggers in, beside what every place may"},
		{"ui/movein", append([]string{"export/table", "model/disk", "model/importing"}, page...), window, "this place brings spreadsheets in, beside what every place may"},
		{"ui/photos", append([]string{"model/label"}, page...), append([]string{"github.com/skip2/go-qrcode"}, window...), "this place sorts photos by the cards in them, beside what every place may"},
		{"ui/*", page, window, "places do not know each other, the shell or the store"},
		{"cmd/coilward", []string{"assets", "model/...", "export/...", "ui/..."}, append([]string{"github.com/adrg/xdg"}, window...), "the program wires all there is"},
		{"cmd/coilctl", []string{"assets", "model/...", "export/..."}, nil, "this program has no window"},
		{"cmd/dev/...", []string{"cmd/dev/..."}, nil, "what sets a computer up needs Go alone"},
	}
}

const rulesAlone = "rules know the vocabulary, the body, the tables and statistics alone; whoever needs more joins them"
