#include "src/pipeline/row_decoder.hpp"

#include <algorithm>
#include <array>

#include "geo/io/short_names.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/date_pattern.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

/// What of a value is shown in a finding; the rest of a very long one adds nothing.
constexpr std::size_t kShownBytes = 200;

std::string shown(std::string text) {
    if (!is_utf8(text)) {
        text = escaped_utf8(text);
    }
    if (text.size() > kShownBytes) {
        std::size_t end = kShownBytes;
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) {
            --end;  // not within a UTF-8 character
        }
        text.resize(end);
        text += "…";
    }
    return text;
}

}  // namespace

namespace {

/// Kinds that speak of a value that was there and was not used.
bool refuses(const FindingKind& kind) {
    constexpr std::array kKinds{finding::kValueUnreadable.code,
                                finding::kValueNotFinite.code,
                                finding::kValueNegative.code,
                                finding::kValueZero.code,
                                finding::kCodeUnknown.code,
                                finding::kRowSurplusCells.code,
                                finding::kRowCutShort.code,
                                finding::kQuoteUnclosed.code};
    return std::find(kKinds.begin(), kKinds.end(), kind.code) != kKinds.end();
}

}  // namespace

namespace {

const FindingKind& kind_of(DamageKind damage) {
    switch (damage) {
        case DamageKind::surplus_cells:
            return finding::kRowSurplusCells;
        case DamageKind::missing_cells:
            return finding::kRowCutShort;
        case DamageKind::quote_unclosed:
            return finding::kQuoteUnclosed;
        case DamageKind::quote_misplaced:
            return finding::kQuoteMisplaced;
        case DamageKind::nul_bytes:
        case DamageKind::nul_in_database:
            return finding::kNulBytes;
        case DamageKind::geometry:
            return finding::kGeometryUnreadable;
        case DamageKind::row_lost:
            return finding::kRowLost;
    }
    return finding::kRowLost;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

std::string code_form(std::string_view text) {
    std::string form{trimmed(text)};
    for (char& c : form) {
        if (c >= 'A' && c <= 'Z') {
            c = static_cast<char>(c - 'A' + 'a');
        } else if (c == ' ' || c == '-') {
            c = '_';
        }
    }
    return form;
}

std::string known_words(std::span<const CodeWord> words) {
    std::string list;
    for (const CodeWord& w : words) {
        list += (list.empty() ? " (known are " : ", ") + std::string{w.word};
    }
    return list + ")";
}

RowDecoder::RowDecoder(const LayerSchema& schema,
                       InputLayer layer,
                       Findings& findings,
                       std::span<const std::string_view> own,
                       const LayerColumns* mapped)
    : schema_{schema}, layer_{layer}, findings_{findings}, own_{own}, mapped_{mapped} {}

bool RowDecoder::is_own(std::string_view name) const {
    return std::any_of(
        own_.begin(), own_.end(), [&](std::string_view o) { return same_name(o, name); });
}

Column RowDecoder::column(std::string_view name) {
    if (mapped_ != nullptr) {
        Column c{name, std::nullopt, mapped_->slot(name)};
        if (c.slot) {
            for (const std::size_t column : mapped_->columns(*c.slot)) {
                use(column);
            }
        }
        return c;
    }
    return wanted(name, (is_own(name) ? "in_" : "") + std::string{name});
}

Column RowDecoder::own_column(std::string_view name) {
    return is_own(name) ? wanted(name, std::string{name}) : Column{name, std::nullopt};
}

Column RowDecoder::wanted(std::string_view name, const std::string& name_in_layer) {
    // A Shapefile cuts names to ten letters, or has the tool's own short ones.
    constexpr std::size_t kShapefileName = 10;
    Column c{name, schema_.field_index(name_in_layer)};
    if (!c.index && !own_short_name(name).empty() && name_in_layer == name) {
        c.index = schema_.field_index(own_short_name(name));
    }
    if (!c.index && name_in_layer.size() > kShapefileName) {
        c.index = schema_.field_index(name_in_layer.substr(0, kShapefileName));
    }
    if (c.index) {
        use(*c.index);
    }
    return c;
}

void RowDecoder::use(std::size_t column) {
    if (std::find(used_.begin(), used_.end(), column) == used_.end()) {
        used_.push_back(column);
    }
}

void RowDecoder::start(const FeatureBatch& batch, std::size_t row) {
    batch_ = &batch;
    row_ = row;
    feature_ = std::to_string(batch.fid(row));
    place_.reset();
    refused_ = false;
}

void RowDecoder::finish() {
    batch_ = nullptr;
    feature_.clear();
    place_.reset();
}

bool RowDecoder::is_null(const Column& c) const {
    if (c.slot) {
        return taken(c) == nullptr;
    }
    if (!c.index || batch_->is_null(row_, *c.index)) {
        return true;
    }
    const auto written = batch_->text_view(row_, *c.index);
    return written && trimmed(*written).empty();
}

std::string RowDecoder::text(const Column& c) const {
    if (c.slot) {
        const ColumnSource* const source = taken(c);
        return source == nullptr ? std::string{} : word_of(*source).value_or("");
    }
    if (is_null(c)) {
        return {};
    }
    return std::string{trimmed(batch_->text(row_, *c.index))};
}

std::optional<double> RowDecoder::number(const Column& c) {
    if (is_null(c)) {
        return std::nullopt;
    }
    const auto read = c.slot ? mapped_number(c) : batch_->number(row_, *c.index);
    if (read.status == ValueStatus::unreadable) {
        note(finding::kValueUnreadable,
             c.name,
             shown_value(c),
             " (a number is wanted: a decimal point, no unit)");
    } else if (read.status == ValueStatus::not_finite) {
        note(finding::kValueNotFinite, c.name, shown_value(c));
    }
    return read.value;
}

Maybe<Length> RowDecoder::length(const Column& c, RecordedUnit unit, SizeRange range) {
    const auto value = number(c);
    if (!value) {
        return {};
    }
    if (range != SizeRange::any && *value < 0.0) {
        note(finding::kValueNegative, c.name, shown_value(c));
        return {};
    }
    if (range == SizeRange::positive && *value == 0.0) {
        note(finding::kValueZero, c.name, shown_value(c));
        return {};
    }
    if (c.slot) {
        return Length::metres(*value * taken(c)->rule->factor);
    }
    return unit == RecordedUnit::inch ? Length::inches(*value) : Length::feet(*value);
}

std::optional<Date> RowDecoder::date(const Column& c) {
    if (is_null(c)) {
        return std::nullopt;
    }
    const auto read = c.slot ? mapped_date(c) : batch_->date(row_, *c.index);
    if (!read.value && read.status != ValueStatus::null) {
        note(finding::kValueUnreadable, c.name, shown_value(c), " (a day is wanted: YYYY-MM-DD)");
    } else if (read.value && today_ && *read.value > *today_) {
        note(finding::kDateInFuture, c.name, read.value->to_string());
    } else if (read.value && read.value->ymd().year < 1900) {
        note(finding::kDateBefore1900, c.name, read.value->to_string());
    }
    return read.value;
}

Answer RowDecoder::answer(const Column& c) {
    if (is_null(c)) {
        return Answer::not_recorded;
    }
    const auto read = c.slot ? mapped_boolean(c) : batch_->boolean(row_, *c.index);
    const bool unread =
        read.status == ValueStatus::unreadable || read.status == ValueStatus::not_finite;
    constexpr std::array<CodeWord, 2> kAnswers{{{"true", 1}, {"false", 0}}};
    if (unread && c.slot && refuse_code(c, text(c), kAnswers)) {
        return Answer::not_recorded;
    }
    if (read.status == ValueStatus::unreadable || read.status == ValueStatus::not_finite) {
        note(finding::kValueUnreadable,
             c.name,
             shown_value(c),
             " (true or false is wanted, or yes or no, 1 or 0)");
    }
    if (!read.value) {
        return Answer::not_recorded;
    }
    return *read.value ? Answer::yes : Answer::no;
}

std::optional<int> RowDecoder::code(const Column& c, std::span<const CodeWord> words) {
    const std::string raw = text(c);
    if (raw.empty()) {
        return std::nullopt;
    }
    const std::string form = code_form(raw);
    for (const CodeWord& w : words) {
        if (w.word == form) {
            return w.meaning;
        }
    }
    if (!refuse_code(c, raw, words)) {
        note(finding::kCodeUnknown, c.name, raw, known_words(words));
    }
    return std::nullopt;
}

bool RowDecoder::refuse_code(const Column& c,
                             std::string_view value,
                             std::span<const CodeWord> words) {
    const ColumnSource* const source = c.slot ? taken(c) : nullptr;
    if (source == nullptr || !mapped_->strict(batch_->part())) {
        return false;
    }
    std::vector<std::string_view> known;
    for (const CodeWord& word : words) {
        known.push_back(word.word);
    }
    mapped_->unknown_codes().add(source->rule->path,
                                 source->rule->column,
                                 value,
                                 batch_->first_row() + static_cast<std::int64_t>(row_),
                                 known);
    return true;
}

const ColumnSource* RowDecoder::taken(const Column& c) const {
    for (const ColumnSource& source : mapped_->sources(batch_->part(), *c.slot)) {
        if (source.plain) {
            const auto written = batch_->text_view(row_, source.column);
            if (written ? !trimmed(*written).empty() : !batch_->is_null(row_, source.column)) {
                return &source;
            }
        } else if (word_of(source)) {
            return &source;
        }
    }
    return nullptr;
}

std::string RowDecoder::stored_text(const ColumnSource& source) const {
    const auto written = batch_->text_view(row_, source.column);
    return std::string{written ? trimmed(*written) : trimmed(batch_->text(row_, source.column))};
}

std::optional<std::string> RowDecoder::word_of(const ColumnSource& source) const {
    const FieldSource& rule = *source.rule;
    if (rule.from == FieldSource::From::constant) {
        return rule.constant;
    }
    if (rule.from == FieldSource::From::feature_id) {
        return std::to_string(batch_->fid(row_));
    }
    std::string text = stored_text(source);
    if (text.empty() || std::find(rule.nulls.begin(), rule.nulls.end(), text) != rule.nulls.end()) {
        return std::nullopt;
    }
    if (rule.codes.empty() && !rule.has_others) {
        return text;
    }
    const auto code = rule.codes.find(text);
    if (code != rule.codes.end()) {
        return code->second;
    }
    if (rule.has_others) {
        return rule.others;
    }
    std::vector<std::string_view> known;
    for (const auto& [word, meaning] : rule.codes) {
        known.push_back(word);
    }
    mapped_->unknown_codes().add(
        rule.path, rule.column, text, batch_->first_row() + static_cast<std::int64_t>(row_), known);
    return std::nullopt;
}

Read<double, ValueStatus> RowDecoder::mapped_number(const Column& c) const {
    const ColumnSource& source = *taken(c);
    if (source.plain) {
        return batch_->number(row_, source.column);
    }
    std::string text = word_of(source).value_or("");
    if (source.rule->decimal_comma) {
        std::replace(text.begin(), text.end(), ',', '.');
    }
    return parse_number(text);
}

Read<Date, ValueStatus> RowDecoder::mapped_date(const Column& c) const {
    const ColumnSource& source = *taken(c);
    if (source.plain) {
        return batch_->date(row_, source.column);
    }
    const std::string text = word_of(source).value_or("");
    const std::string& pattern = source.rule->date_pattern;
    if (pattern.empty() || source.rule->from == FieldSource::From::constant) {
        return parse_date(text);
    }
    if (!batch_->text_view(row_, source.column)) {
        const auto stored =
            batch_->date(row_, source.column);  // a column of dates needs no pattern
        if (stored.value) {
            return stored;
        }
    }
    const auto date = date_by_pattern(text, pattern);
    return {date, date ? ValueStatus::ok : ValueStatus::unreadable};
}

Read<bool, ValueStatus> RowDecoder::mapped_boolean(const Column& c) const {
    const ColumnSource& source = *taken(c);
    return source.plain ? batch_->boolean(row_, source.column)
                        : parse_boolean(word_of(source).value_or(""));
}

std::optional<std::pair<std::string, std::string>> RowDecoder::as_stored(const Column& c) const {
    const ColumnSource* const source = c.slot ? taken(c) : nullptr;
    if (source == nullptr) {
        return std::nullopt;
    }
    switch (source->rule->from) {
        case FieldSource::From::constant:
            return std::pair{std::string{}, source->rule->constant};
        case FieldSource::From::feature_id:
            return std::pair{std::string{}, std::to_string(batch_->fid(row_))};
        case FieldSource::From::column:
            break;
    }
    return std::pair{schema_.fields[source->column].name, stored_text(*source)};
}

std::string RowDecoder::shown_value(const Column& c) const {
    const auto stored = as_stored(c);
    return stored ? stored->second : batch_->text(row_, *c.index);
}

/// In which column of the layer a field stands that a job file maps.
std::string RowDecoder::column_advice(std::string_view field) const {
    if (mapped_ == nullptr || batch_ == nullptr) {
        return "";
    }
    const auto stored = as_stored({field, std::nullopt, mapped_->slot(field)});
    return !stored || stored->first.empty() || same_name(stored->first, field)
               ? std::string{}
               : " (read from the column " + stored->first + ")";
}

void RowDecoder::note_damage() {
    for (const RowDamage& d : batch_->damage(row_)) {
        if (d.kind == DamageKind::nul_in_database) {
            continue;  // of columns that are not read here, too, where they are written
        }
        note(kind_of(d.kind), d.field, d.value);
    }
}

std::string RowDecoder::geometry_type() const {
    const std::string wkt = batch_->geometry_text(row_);
    return std::string{trimmed(std::string_view{wkt}.substr(0, wkt.find('(')))};
}

bool RowDecoder::note_shape(ShapeStatus status) {
    if (status == ShapeStatus::unreadable) {
        note(finding::kGeometryUnreadable, "geometry", batch_->geometry_text(row_));
    } else if (status == ShapeStatus::not_finite) {
        note(finding::kGeometryNotFinite, "geometry", batch_->geometry_text(row_));
    }
    return status == ShapeStatus::unreadable || status == ShapeStatus::not_finite;
}

void RowDecoder::note_row_shape() {
    if (!batch_->has_geometry(row_)) {
        return;
    }
    const ShapeStatus as_point = batch_->point(row_).status;
    note_shape(as_point == ShapeStatus::other_type ? batch_->path(row_).status : as_point);
}

void RowDecoder::note_damage(const std::vector<RowDamage>& of_layer) {
    finish();
    for (const RowDamage& d : of_layer) {
        note(kind_of(d.kind), d.field, d.value);
    }
}

void RowDecoder::note_unknown_pole(const std::string& id) {
    if (const auto vertex = batch_->first_vertex(row_)) {
        place_ = Place{vertex->x, vertex->y};
    }
    note(finding::kPoleUnknown, "pole_id", id, id.empty() ? ". No pole_id is recorded" : "");
}

void RowDecoder::note(const FindingKind& kind,
                      std::string_view field,
                      std::string value,
                      std::string_view advice) {
    refused_ = refused_ || refuses(kind);
    Finding f = make_finding(kind, layer_, -1, field, shown(std::move(value)));
    f.message += advice;
    f.message += column_advice(field);
    f.feature = feature_;
    f.place = place_;
    findings_.push_back(std::move(f));
}

}  // namespace linewood
