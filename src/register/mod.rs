//! The SQLite register. It never decides: it calls the domain and writes what comes back.
