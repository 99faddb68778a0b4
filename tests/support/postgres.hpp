#pragma once

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

#include <unistd.h>

#include "tests/support/program.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {

/// A PostgreSQL server with PostGIS of its own, on loopback, in a temporary folder, stopped and removed with this.
/// Run by root it is started as the user `postgres`, since the server refuses to be root.
class PostgresServer {
public:
    /// Is there one to start? (Debian 12: postgresql-15, postgresql-15-postgis-3.)
    static bool is_installed() {
        return std::filesystem::exists(kPrograms + "initdb") &&
               std::filesystem::exists("/usr/share/postgresql/15/extension/postgis.control");
    }

    PostgresServer() {
        if (::geteuid() == 0) {
            shell("chown -R postgres '" + folder_.path().string() + "'");
        }
        const std::string data = (folder_ / "data").string();
        as_user(kPrograms + "initdb -D " + data + " -A trust -U linewood --no-sync");
        as_user(kPrograms + "pg_ctl -D " + data + " -w -l " + (folder_ / "log").string() +
                " -o \"-p " + port() + " -k " + folder_.path().string() +
                " -h 127.0.0.1 -c fsync=off\" start");
        psql("CREATE DATABASE gis", "postgres");
        psql("CREATE EXTENSION postgis");
    }
    ~PostgresServer() {
        try {
            as_user(kPrograms + "pg_ctl -D " + (folder_ / "data").string() + " -m immediate stop");
        } catch (const std::exception&) {
            return;  // the folder goes all the same
        }
    }
    PostgresServer(const PostgresServer&) = delete;
    PostgresServer& operator=(const PostgresServer&) = delete;
    PostgresServer(PostgresServer&&) = delete;
    PostgresServer& operator=(PostgresServer&&) = delete;

    /// As GDAL takes it; with a schema, where one is named.
    std::string connection(const std::string& schema = "") const {
        return "PG:host=127.0.0.1 port=" + port() + " user=linewood dbname=gis" +
               (schema.empty() ? "" : " active_schema=" + schema);
    }

    /// What a statement answers: columns parted by `|`, a line a row.
    std::string psql(const std::string& sql, const std::string& database = "gis") const {
        const ProgramRun run = run_program_file("/usr/bin/psql",
                                                {"-X",
                                                 "-q",
                                                 "-A",
                                                 "-t",
                                                 "-h",
                                                 "127.0.0.1",
                                                 "-p",
                                                 port(),
                                                 "-U",
                                                 "linewood",
                                                 "-d",
                                                 database,
                                                 "-c",
                                                 sql});
        std::string out = run.out + run.err;
        while (!out.empty() && out.back() == '\n') {
            out.pop_back();
        }
        return out;
    }

private:
    inline static const std::string kPrograms = "/usr/lib/postgresql/15/bin/";

    /// Of its own for every process, outside the range the system gives away.
    static std::string port() { return std::to_string(20000 + ::getpid() % 10000); }

    static void shell(const std::string& command) {
        const ProgramRun run = run_program_file("/bin/sh", {"-c", command + " >/dev/null 2>&1"});
        if (run.exit_code != 0) {
            throw std::runtime_error(command + " failed");
        }
    }

    void as_user(const std::string& command) const {
        if (::geteuid() == 0) {
            shell("cd / && setpriv --reuid postgres --regid postgres --clear-groups -- " + command);
        } else {
            shell(command);
        }
    }

    TempDir folder_{"/tmp"};
};

}  // namespace linewood::testing
