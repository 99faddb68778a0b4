#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linewood {

/// Where a value of a contract field is taken from, and how it is turned into one. Of a job file.
struct FieldSource {
    enum class From : unsigned char { column, feature_id, constant };

    std::string path;         ///< where it stands in the job file, for messages
    std::string codes_path;   ///< where its codes stand; empty where there are none
    std::string others_path;  ///< where it says what other texts mean
    std::string date_path;    ///< where its pattern stands
    From from = From::column;
    std::string column;        ///< as the layer calls it; with `{n}` that of a repeated group
    std::string constant;      ///< as text
    std::string unit;          ///< as stated; empty where there is none
    double factor = 1.0;       ///< to metres of girth or length; 1 for angles
    std::string measure = {};  ///< `diameter`, `radius`; empty where the girth itself is given

    /// By the text in the layer, without blanks around it; nothing = not recorded. Empty: there are no codes.
    std::map<std::string, std::optional<std::string>> codes = {};
    /// What all other texts mean, where the job file says so.
    bool has_others = false;
    std::optional<std::string> others = {};
    std::vector<std::string> nulls = {};  ///< texts that mean "not recorded"
    std::string date_pattern = {};        ///< empty: as dates are read without a job file
    bool decimal_comma = false;
};

/// One contract field of a source: the first of these that holds something counts.
struct FieldMapping {
    std::string field;
    std::vector<FieldSource> sources;
};

/// One source of a layer.
struct SourceMapping {
    std::string path;  ///< `layers.poles`, `layers.spans[1]`
    std::string
        dataset;        ///< file, folder or what OGR opens; empty = the dataset of the command line
    std::string layer;  ///< empty: the contract's name, or the only layer
    std::string where;
    std::vector<std::string>
        groups;  ///< what stands for `{n}`, one row each; empty = no repeated groups
    std::vector<std::string> nulls;  ///< texts that mean "not recorded" in any field
    std::vector<FieldMapping> fields;
    /// The fields are read by their own names where the layer has them; false: only those listed.
    bool by_own_names = false;
};

/// A source, or a field's sources in order, in words: `LEN, ft, else LEN_M, m`.
std::string shown_source(const FieldSource& source);
std::string shown_sources(const FieldMapping& field);

}  // namespace linewood
