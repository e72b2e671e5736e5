//! How a thread asks for a new frame without knowing the window.

use std::sync::Arc;

/// Asks for a new frame; may be called from any thread.
pub type Wake = Arc<dyn Fn() + Send + Sync>;
