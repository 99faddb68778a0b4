#include "src/job/draft_words.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <span>

namespace linewood {
namespace {

/// Phrases by which a field is known, each its words; the field's own name is always one. Own choice, no source.
struct FieldPhrases {
    std::string_view field;
    std::string_view phrases;  ///< parted by `|`
};

constexpr FieldPhrases kPhrases[] = {
    {"pole_id",
     "pole|id|pole no|pole number|pole num|pole nr|pole ref|pole tag|tag|pole code|pole key|asset "
     "id|asset|asset no|asset number|support|support id|support no|structure|structure "
     "id|structure no|structure number|mast|mast id|mast nr|mast "
     "no|mastnr|mastnummer|number|no|nr|num|fk "
     "pole|poleid|poleno|facility id|facilityid|equipment id|site id|barcode|cod id"},
    {"species",
     "species|wood species|timber species|tree species|wood type|timber|timber type|wood"},
    {"pole_class", "class|pole class|strength class|ansi class|cls|class code|pole cls"},
    {"length",
     "length|pole length|len|pole len|overall length|total length|height|pole height|ht|pole "
     "ht|size"},
    {"setting_depth",
     "setting depth|embedment|embedment depth|embedded depth|burial depth|depth set|set "
     "depth|planting "
     "depth|depth in ground|buried"},
    {"install_year",
     "install year|year|year installed|installed|year set|set year|installation year|yr set|build "
     "year|year built|vintage|install date|erected|year erected"},
    {"circuit",
     "circuit|feeder|circuit id|feeder id|circuit name|line|line id|line name|feeder name|circ "
     "id|line no|ckt"},
    {"material", "material|pole material|mat|pole type|made of|substance"},
    {"reinforced",
     "reinforced|stubbed|has stub|reinforcement|braced|restored|truss|trussed|splinted|is "
     "reinforced"},
    {"recorded_circumference",
     "recorded circumference|circumference|circ|girth|groundline circumference|gl circumference|gl "
     "circ|recorded girth|nominal circumference|nominal girth|design circumference|butt "
     "circumference|gl "
     "girth|groundline girth|diameter|dia|gl diameter|groundline diameter|recorded circ|record "
     "girth"},
    {"given_azimuth",
     "given azimuth|line azimuth|axis|line direction|line bearing|given bearing|axis azimuth"},
    {"given_role", "given role|line role|role|function|pole function|structure type"},
    {"station",
     "station|chainage|stationing|mileage|kilometer|sequence|seq|order|position along line"},
    {"span_id",
     "span|span id|id|segment id|segment|line id|section id|conductor id|route id|route|span "
     "no|cod id"},
    {"from_pole",
     "from pole|from|start pole|start|pole from|pole a|begin pole|from structure|from id|from "
     "node|source "
     "pole|first pole|from support|pole 1|node from|back pole|start structure|from asset"},
    {"to_pole",
     "to pole|to|end pole|end|pole to|pole b|to structure|to id|to node|target pole|second "
     "pole|last pole|to "
     "support|pole 2|node to|ahead pole|end structure|to asset"},
    {"voltage_kv",
     "voltage|voltage kv|kv|nominal voltage|nominal kv|volt|line voltage|operating voltage|system "
     "voltage"},
    {"inspected_on",
     "inspected on|inspection date|insp date|date inspected|date|visit date|inspected|date of "
     "inspection|insp "
     "dt|inspdate|visited|visited on|survey date|date checked|exam date|checked on|date of "
     "visit|found on|date "
     "found|recorded on|report date"},
    {"method",
     "method|inspection method|insp method|inspection type|insp type|technique|procedure|type of "
     "inspection|inspection level|test method|how inspected|done by"},
    {"original_circumference",
     "original circumference|original girth|orig circ|orig girth|new circumference|sound "
     "circumference|initial circumference|original circ|circumference original|circ orig|girth "
     "original|as "
     "installed circumference|initial girth|original diameter|orig dia|orig diam|girth new|circ "
     "new"},
    {"original_height",
     "original height|original circumference height|height original|orig height|original measured "
     "at|orig "
     "circ height|height of original"},
    {"present_circumference",
     "present circumference|present girth|current circumference|current girth|effective "
     "circumference|effective girth|measured circumference|measured girth|remaining "
     "circumference|remaining "
     "girth|circumference now|girth now|circ now|eff circ|present circ|circ present|current "
     "circ|circumference|girth|"
     "circ|reduced circumference|actual circumference|actual girth|circ current|girth "
     "present|present "
     "diameter|current diameter"},
    {"climb_safe",
     "climb safe|safe to climb|climbable|climb ok|safe climb|climbing safe|ok to climb|can "
     "climb|climbing ok|climb"},
    {"aboveground_damage",
     "aboveground damage|above ground damage|damage above|damage|top damage|visible damage|upper "
     "damage|damage "
     "above ground|ag damage|damage level"},
    {"decay_below_excavation",
     "decay below excavation|decay below|rot below|decay deeper|decay continues|below "
     "excavation|rot below dig|decay "
     "below dig"},
    {"treated",
     "treated|treatment|remedial treatment|treatment done|treatment applied|is "
     "treated|preservative|treatment "
     "given|retreated|was treated"},
    {"notes", "notes|note|remarks|remark|comments|comment|memo|description|text|observations"},
    {"kind",
     "kind|defect kind|defect type|type|defect|kind of defect|type of defect|damage type|finding "
     "type|category|defect "
     "code|code|class of defect|defect category|decay type|fault type|span type|line type"},
    {"height",
     "height|height above ground|height above groundline|elevation|ht|defect height|height "
     "gl|level|above ground|height "
     "agl|above groundline|dist from gl|vertical position|height from ground|hgt"},
    {"azimuth",
     "azimuth|bearing|direction|az|orientation|heading|compass|facing|azim|angle|defect "
     "azimuth|brg|side bearing|compass "
     "direction|compass bearing"},
    {"azimuth_ref",
     "azimuth ref|azimuth reference|bearing ref|bearing reference|north|north type|north "
     "reference|ref|reference|north "
     "ref|azimuth type|bearing type|azimuth datum|direction ref"},
    {"position",
     "position|face|side|quadrant|pole face|location|face position|in line|line position|relative "
     "position|position on "
     "pole|line side|orientation to line|sector"},
    {"width",
     "width|mouth|mouth width|opening|opening width|pocket width|breadth|w|wide|across|pocket "
     "w|defect width|opening w"},
    {"depth",
     "depth|pocket depth|deep|d|decay depth|defect depth|penetration|rot depth|inward depth|pocket "
     "d|max depth"},
    {"extent",
     "extent|vertical extent|vert extent|tall|vertical length|pocket length|extent vertical|along "
     "pole|vertical "
     "size|vertical|defect length|length along pole"},
    {"shell_thickness",
     "shell thickness|shell|sound shell|sound wood|shell depth|shell thick|residual "
     "shell|remaining shell|solid "
     "wood|sound thickness|wall|wall thickness|residual wall|shell t|good wood|outer shell"},
    {"bore_angle",
     "bore angle|drill angle|boring angle|angle of bore|angle of boring|angle|bore "
     "inclination|bore deg"},
    {"bore_from",
     "bore from|bored from|drilled from|bore start|bore origin|boring start|entry|bore entry|start "
     "of bore"},
    {"cause",
     "cause|reason|origin|agent|caused by|defect cause|damage cause|why|cause of defect|source of "
     "damage"},
};

constexpr std::pair<InputLayer, std::string_view> kLayerWords[] = {
    {InputLayer::poles,
     "pole poles support supports mast masts structure structures asset assets tower towers node "
     "nodes"},
    {InputLayer::spans,
     "span spans line lines conductor conductors route routes wire wires segment segments circuit "
     "circuits feeder feeders "
     "link links edge edges"},
    {InputLayer::inspections,
     "inspection inspections insp visit visits survey surveys exam exams check checks test tests "
     "patrol round"},
    {InputLayer::defects,
     "defect defects damage damages finding findings pocket pockets decay rot bore bores boring "
     "borings cavity cavities "
     "fault faults observation observations"},
};

/// Words that say nothing of what a column is.
constexpr std::string_view kNeutral[] = {
    "pole",   "poles", "the",      "of",      "at",       "value", "val",  "field",      "insp",
    "defect", "meas",  "measured", "reading", "read",     "col",   "attr", "inspection", "span",
    "is",     "was",   "a",        "wood",    "recorded", "data",  "item"};

/// Texts that stand for the words of coded fields: `field: word=text text, word=text`. Own choice, no source.
struct FieldCodes {
    std::string_view field;
    std::string_view word;
    std::string_view texts;  ///< parted by `|`, as code_form() writes them
};
constexpr FieldCodes kCodes[] = {
    {"material", "wood", "wood|timber|wooden|w|wd|wp|holz|tre|bois|madera|madeira|wood_pole"},
    {"material", "steel", "steel|metal|st|stl|stahl|stål|acier|acero|iron|galvanized"},
    {"material", "concrete", "concrete|conc|con|beton|concreto|rc|prestressed"},
    {"material", "composite", "composite|frp|fiberglass|fibreglass|grp|fibre|fiber"},
    {"material", "aluminium", "aluminium|aluminum|alu|al"},
    {"given_role", "tangent", "tangent|straight|suspension|inline|in_line"},
    {"given_role", "angle", "angle|corner|bend"},
    {"given_role", "dead_end", "dead_end|deadend|terminal|end|termination"},
    {"given_role", "junction", "junction|tee|tap|branch"},
    {"given_role", "isolated", "isolated|alone|single"},
    {"kind", "line", "line|primary|secondary|main|overhead|oh|distribution|transmission|mv|hv|lv"},
    {"kind", "service", "service|drop|service_drop|customer|svc"},
    {"kind", "guy", "guy|stay|anchor|down_guy|guy_wire"},
    {"kind",
     "external_pocket",
     "external_pocket|pocket|ext_pocket|external|enclosed_pocket|exposed_pocket|ext|cavity|surface_"
     "pocket|hole"},
    {"kind",
     "internal_rot",
     "internal_rot|internal|heart_rot|int_rot|internal_decay|heartrot|hollow|interior|interior_rot|"
     "interior_decay|inner_rot|"
     "void|core_rot|hollow_heart"},
    {"kind",
     "shell_rot",
     "shell_rot|surface_rot|external_rot|outer_rot|external_decay|surface_decay|shell_decay|"
     "surface|outside_rot|all_round"},
    {"kind", "bore", "bore|sound|sound_bore|bored_sound|ok|no_decay|boring|solid|sound_boring"},
    {"method", "visual", "visual|vis|v|look|sight|walk|drive_by"},
    {"method", "hammer", "hammer|sound|sounding|hammer_test|sounded|h|tap"},
    {"method", "bore", "bore|bored|sound_and_bore|boring|drill|drilled|b|s&b|partial"},
    {"method",
     "excavated",
     "excavated|excavate|full_excavation|excavation|dug|e|full|dig|exc|partial_excavation"},
    {"aboveground_damage", "none", "none|no|nil|0|n|ok|no_damage|good"},
    {"aboveground_damage", "minor", "minor|slight|light|low|1|small|some|moderate"},
    {"aboveground_damage", "extensive", "extensive|major|severe|heavy|high|2|bad|large|serious"},
    {"azimuth_ref", "true", "true|true_north|t|tn|geographic|geodetic"},
    {"azimuth_ref", "magnetic", "magnetic|mag|m|magnetic_north|mn|compass"},
    {"azimuth_ref", "grid", "grid|grid_north|g|gn|map"},
    {"azimuth_ref", "clock", "clock|clock_face|hours|o'clock|oclock|c|clock_position"},
    {"position", "in_line", "in_line|inline|line|parallel|il|i|along|longitudinal|in"},
    {"position",
     "out_of_line",
     "out_of_line|outofline|perpendicular|across|transverse|ool|o|out|cross|off_line"},
    {"position", "oblique", "oblique|quarter|diagonal|corner|between|ob|quartering|45"},
    {"bore_from", "surface", "surface|outside|s|present_surface|outer"},
    {"bore_from", "pocket", "pocket|bottom_of_pocket|p|inside_pocket|in_pocket"},
    {"cause", "decay", "decay|rot|rotten|fungi|fungus|fungal|d"},
    {"cause",
     "insect",
     "insect|insects|ants|termite|termites|beetle|carpenter_ant|carpenter_ants|i"},
    {"cause", "mechanical", "mechanical|mech|vehicle|impact|car|mower|machine|m|hit"},
    {"cause", "woodpecker", "woodpecker|bird|birds|wp|w|pecker"},
    {"cause", "fire", "fire|burn|burnt|burned|charred|f|char"},
    {"cause", "check", "check|checks|crack|split|cracks|seasoning_check|c|checking"},
    {"cause", "bolt_hole", "bolt_hole|bolt|bolthole|bh|drill_hole|hole|b"},
};

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_word_part(char c) {
    return is_digit(c) || is_upper(c) || (c >= 'a' && c <= 'z') ||
           (static_cast<unsigned char>(c) & 0x80U) != 0;
}

std::vector<std::string_view> parts_of(std::string_view text, char separator) {
    std::vector<std::string_view> parts;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find(separator, at), text.size());
        if (end > at) {
            parts.push_back(text.substr(at, end - at));
        }
        at = end + 1;
    }
    return parts;
}

std::string unit_of_word(std::string_view word) {
    constexpr std::pair<std::string_view, std::string_view> kUnits[] = {{"in", "in"},
                                                                        {"inch", "in"},
                                                                        {"inches", "in"},
                                                                        {"ins", "in"},
                                                                        {"ft", "ft"},
                                                                        {"feet", "ft"},
                                                                        {"foot", "ft"},
                                                                        {"mm", "mm"},
                                                                        {"cm", "cm"},
                                                                        {"m", "m"},
                                                                        {"metre", "m"},
                                                                        {"metres", "m"},
                                                                        {"meter", "m"},
                                                                        {"meters", "m"},
                                                                        {"mtr", "m"},
                                                                        {"deg", "deg"},
                                                                        {"degree", "deg"},
                                                                        {"degrees", "deg"}};
    for (const auto& [name, unit] : kUnits) {
        if (name == word) {
            return std::string{unit};
        }
    }
    return {};
}

/// 1 for the same word, less where one is the beginning of the other.
double word_fit(std::string_view phrase, std::string_view word) {
    constexpr std::size_t kLeast = 3;
    if (phrase == word) {
        return 1.0;
    }
    const std::string_view shorter = phrase.size() < word.size() ? phrase : word;
    const std::string_view longer = phrase.size() < word.size() ? word : phrase;
    return shorter.size() >= kLeast && longer.substr(0, shorter.size()) == shorter ? 0.92 : 0.0;
}

double phrase_fit(std::string_view phrase, const NameWords& name, char separator) {
    const auto wanted = parts_of(phrase, separator);
    std::vector<bool> used(name.words.size(), false);
    double sum = 0.0;
    for (const std::string_view word : wanted) {
        double best = 0.0;
        std::size_t at = 0;
        for (std::size_t i = 0; i < name.words.size(); ++i) {
            const double fit = used[i] ? 0.0 : word_fit(word, name.words[i]);
            if (fit > best) {
                best = fit;
                at = i;
            }
        }
        if (best == 0.0) {
            return 0.0;
        }
        used[at] = true;
        sum += best;
    }
    double fit = sum / static_cast<double>(std::max<std::size_t>(wanted.size(), 1));
    for (std::size_t i = 0; i < used.size(); ++i) {
        if (!used[i]) {
            const bool neutral =
                std::find(std::begin(kNeutral), std::end(kNeutral), name.words[i]) !=
                std::end(kNeutral);
            fit *= neutral ? 0.96 : 0.75;
        }
    }
    // A single word says less than several.
    return wanted.size() == 1 ? fit * 0.95 : fit;
}

}  // namespace

NameWords name_words(std::string_view name) {
    NameWords out;
    std::string word;
    const auto end_word = [&] {
        if (!word.empty()) {
            out.words.push_back(std::move(word));
        }
        word.clear();
    };
    for (std::size_t i = 0; i < name.size(); ++i) {
        const char c = name[i];
        if (!is_word_part(c)) {
            end_word();
            continue;
        }
        const bool hump = i > 0 && is_upper(c) && !is_upper(name[i - 1]);
        const bool number = i > 0 && is_digit(c) != is_digit(name[i - 1]);
        if (hump || number) {
            end_word();
        }
        word += lower(c);
    }
    end_word();
    if (out.words.size() > 1) {
        out.unit = unit_of_word(out.words.back());
        if (!out.unit.empty()) {
            out.words.pop_back();
        }
    }
    return out;
}

double name_fit(const ContractField& field, const NameWords& name) {
    if (name.words.empty()) {
        return 0.0;
    }
    NameWords whole = name;
    std::string own{field.name};
    double best = phrase_fit(own, whole, '_');
    // The unit may be part of the name after all: voltage_kv, in_line.
    for (const FieldPhrases& known : kPhrases) {
        if (known.field != field.name) {
            continue;
        }
        for (const std::string_view phrase : parts_of(known.phrases, '|')) {
            best = std::max(best, phrase_fit(phrase, whole, ' '));
        }
    }
    std::string joined;
    for (const std::string& word : name.words) {
        joined += (joined.empty() ? "" : "_") + word;
    }
    return joined == field.name || (joined + "_" + name.unit) == field.name ? 1.0
                                                                            : std::min(best, 0.97);
}

double layer_name_fit(InputLayer layer, std::string_view name) {
    const NameWords words = name_words(name);
    for (const auto& [known, list] : kLayerWords) {
        if (known != layer) {
            continue;
        }
        for (const std::string_view word : parts_of(list, ' ')) {
            if (std::find(words.words.begin(), words.words.end(), word) != words.words.end()) {
                return 1.0;
            }
        }
    }
    return 0.0;
}

std::optional<CodeGuess> guess_code(const ContractField& field, std::string_view text) {
    std::string form;
    for (const char c : text) {
        form += c == ' ' || c == '-' ? '_' : lower(c);
    }
    for (const std::string_view word : field.words) {
        if (form == word) {
            return CodeGuess{word, 1.0};
        }
    }
    for (const FieldCodes& codes : kCodes) {
        const bool of_field =
            codes.field == field.name &&
            std::find(field.words.begin(), field.words.end(), codes.word) != field.words.end();
        if (!of_field) {
            continue;
        }
        const auto texts = parts_of(codes.texts, '|');
        if (std::find(texts.begin(), texts.end(), form) != texts.end()) {
            return CodeGuess{codes.word, form.size() > 2 ? 0.9 : 0.6};
        }
    }
    for (const std::string_view word : field.words) {
        std::string initials;
        for (const std::string_view part : parts_of(word, '_')) {
            initials += part.front();
        }
        const bool beginning = form.size() >= 3 && word.substr(0, form.size()) == form;
        if (beginning || (initials.size() > 1 && form == initials)) {
            return CodeGuess{word, 0.6};
        }
    }
    return std::nullopt;
}

std::optional<bool> guess_answer(std::string_view text) {
    constexpr std::string_view kYes[] = {
        "true", "t", "yes", "y", "1", "j", "ja", "s", "si", "sí", "sim", "o", "oui", "x"};
    constexpr std::string_view kNo[] = {
        "false", "f", "no", "n", "0", "nein", "nei", "non", "nao", "não"};
    std::string form;
    for (const char c : text) {
        form += lower(c);
    }
    if (std::find(std::begin(kYes), std::end(kYes), form) != std::end(kYes)) {
        return true;
    }
    if (std::find(std::begin(kNo), std::end(kNo), form) != std::end(kNo)) {
        return false;
    }
    return std::nullopt;
}

}  // namespace linewood
