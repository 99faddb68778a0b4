#pragma once

// Private to geo/io: files in archives and behind GDAL's virtual paths.

#include <memory>
#include <string>

namespace linewood {

class StandIn;

/// How GDAL names what is inside: of `/vsi...` itself, of a `.kmz`, `.shz` or `.shp.zip` on the disk its inside; empty for all
/// others.
std::string virtual_path_of(const std::string& file);

/// Is it a folder, or an archive taken as one, behind a virtual path?
bool is_virtual_folder(const std::string& path);

/// A folder with what is there: all files of a folder, or a file with those called like it (parts of a Shapefile). Null where
/// there is neither. @throws DataError where it cannot be copied.
std::shared_ptr<const StandIn> copy_from_virtual(const std::string& file,
                                                 const std::string& inside);

}  // namespace linewood
