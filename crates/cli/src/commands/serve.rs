//! `turnwright serve`, and `turnwright` alone: the page on this machine, in the browser.

use std::io::ErrorKind;
use std::net::{Ipv4Addr, TcpListener};
use std::process::{Command, Stdio};

use clap::Args;

use super::Answer;
use crate::{Refusal, output};

/// Where the page is served unless another port is named.
const PORT: u16 = 7421;

/// Serves the page on this machine alone and opens it in the browser.
#[derive(Debug, Args)]
pub struct Serve {
    /// The port; 0: any that is free.
    #[arg(long, default_value_t = PORT)]
    port: u16,
    /// Opens no browser.
    #[arg(long)]
    no_open: bool,
}

impl Default for Serve {
    fn default() -> Self {
        Serve { port: PORT, no_open: false }
    }
}

impl Serve {
    /// Serves until Ctrl-C.
    pub fn run(&self) -> Result<Answer, Refusal> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, self.port)).map_err(|error| self.refuse(&error))?;
        let port = listener.local_addr().map_or(self.port, |address| address.port());
        let address = format!("http://127.0.0.1:{port}/");
        output::words(&format!("The page is at {address} on this machine alone. Ctrl-C ends it."));
        if !self.no_open && !open(&address) {
            output::words(&format!("No browser could be opened here: open {address} in one yourself."));
        }
        page::serve(listener).map_err(|error| Refusal(format!("The page cannot be served: {error}.")))?;
        Ok(Answer::Yes)
    }

    fn refuse(&self, error: &std::io::Error) -> Refusal {
        let port = self.port;
        let other = if port < u16::MAX { port + 1 } else { PORT };
        Refusal(match error.kind() {
            ErrorKind::AddrInUse => format!(
                "Port {port} is in use, perhaps by another Turnwright: look at http://127.0.0.1:{port}/ or type\n  \
                 turnwright serve --port {other}"
            ),
            ErrorKind::PermissionDenied => {
                format!("Port {port} may not be used by you; type\n  turnwright serve --port {PORT}")
            }
            _ => format!("Port {port} cannot be used: {error}."),
        })
    }
}

/// Asks the system to open an address; whether it could be asked.
fn open(address: &str) -> bool {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("cmd", &["/C", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    let quiet = |command: &mut Command| {
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().is_ok()
    };
    quiet(Command::new(program).args(before).arg(address))
}
