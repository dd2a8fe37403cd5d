//! A real browser before the page: started, driven, asked, ended.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};

/// What to type where the browser is missing: a test that is left out proves nothing.
const MISSING: &str = "no browser to test with; type: sudo apt-get install -y chromium chromium-driver";

/// The page served, and a browser that looks at it.
pub struct Bench {
    /// The browser.
    pub client: Client,
    /// Where the page is.
    pub address: String,
    driver: Child,
}

impl Drop for Bench {
    fn drop(&mut self) {
        // One that has ended already needs no end.
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Bench {
    /// Serves the page and opens it, this wide.
    pub async fn at_width(width: u32) -> Bench {
        let bench = Bench::closed().await;
        bench.width(width).await;
        bench.open("").await;
        bench
    }

    /// Serves the page; the browser looks at nothing yet.
    pub async fn closed() -> Bench {
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = format!("http://{}/", listener.local_addr().unwrap());
        tokio::spawn(async move { axum::serve(listener, page::router()).await });
        let (driver, port) = driver();
        let wish = json!({
            "browserName": "chrome",
            // The accessibility checker reads thousands of elements, beside other tests on the same cores.
            "timeouts": { "script": 120_000 },
            "goog:chromeOptions": {
                "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
                         "--no-proxy-server", "--force-device-scale-factor=1"],
            },
            "goog:loggingPrefs": { "browser": "ALL" },
        });
        let Value::Object(wish) = wish else { unreachable!("written as an object") };
        let mut builder = ClientBuilder::new(HttpConnector::new());
        let client = builder.capabilities(wish).connect(&format!("http://127.0.0.1:{port}")).await.expect(MISSING);
        Bench { client, address, driver }
    }

    /// Opens an address of the page.
    pub async fn open(&self, path: &str) {
        self.client.goto(&format!("{}{path}", self.address)).await.unwrap();
        self.rests().await;
    }

    /// A command of the browser's own protocol.
    pub async fn browser(&self, command: &str, with: Value) -> Value {
        let command = Own { command: command.to_string(), with };
        self.client.issue_cmd(command).await.unwrap()
    }

    /// As wide as this, as a phone or a desk would have it.
    pub async fn width(&self, width: u32) {
        let size = json!({ "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": false });
        self.browser("Emulation.setDeviceMetricsOverride", size).await;
    }

    /// Light or dark.
    pub async fn scheme(&self, scheme: &str) {
        let wish = json!({ "media": "", "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.browser("Emulation.setEmulatedMedia", wish).await;
    }

    /// What a script gives.
    pub async fn script(&self, script: &str) -> Value {
        self.client.execute(script, Vec::new()).await.unwrap_or_else(|why| panic!("{script}: {why}"))
    }

    /// A text that a script gives.
    pub async fn text(&self, script: &str) -> String {
        self.script(script).await.as_str().unwrap_or_default().to_string()
    }

    /// Waits until the script says yes.
    pub async fn until(&self, script: &str) {
        let start = Instant::now();
        while !self.script(&format!("return Boolean({script})")).await.as_bool().unwrap_or(false) {
            assert!(start.elapsed() < Duration::from_secs(20), "never: {script}");
            tokio::time::sleep(Duration::from_millis(20)).await;
        }
    }

    /// Waits until what was typed is planned and painted.
    pub async fn rests(&self) {
        self.until("document.readyState === 'complete' && document.getElementById('plan').getAttribute('aria-busy') !== 'true'")
            .await;
    }

    /// Types into a field as a person would, over what stands there.
    pub async fn fill(&self, id: &str, value: &str) {
        let field = self.client.find(Locator::Id(id)).await.unwrap_or_else(|why| panic!("{id}: {why}"));
        self.script(&format!("const f = document.getElementById('{id}'); f.focus(); f.select();")).await;
        field.send_keys(value).await.unwrap();
        self.rests().await;
    }

    /// Chooses in a field.
    pub async fn choose(&self, id: &str, value: &str) {
        let script = format!(
            "const f = document.getElementById('{id}'); f.value = {}; \
             f.dispatchEvent(new Event('input', {{ bubbles: true }})); return f.value;",
            json!(value)
        );
        assert_eq!(self.text(&script).await, value, "{id} has no such choice");
        self.rests().await;
    }

    /// Pastes over a text.
    pub async fn paste(&self, id: &str, text: &str) {
        let script = format!(
            "const f = document.getElementById('{id}'); f.value = {}; f.dispatchEvent(new Event('input', {{ bubbles: true }}));",
            json!(text)
        );
        self.script(&script).await;
        self.rests().await;
    }

    /// The outcome in one sentence.
    pub async fn answer(&self) -> String {
        self.text("return document.getElementById('answer').textContent").await
    }

    /// What is to be mended.
    pub async fn faults(&self) -> String {
        self.text("return document.getElementById('faults').textContent").await
    }

    /// Nothing went wrong in the browser itself, and nothing was fetched from elsewhere or refused by the policy.
    pub async fn is_well(&self) {
        let names = "return performance.getEntries().map((entry) => entry.name).filter((name) => name.includes('://'))";
        for name in self.script(names).await.as_array().unwrap() {
            let name = name.as_str().unwrap();
            assert!(name.starts_with(&self.address) || name.starts_with("data:"), "asked elsewhere: {name}");
        }
        for line in self.log().await {
            assert!(!line.contains("Uncaught") && !line.contains("Content Security Policy"), "{line}");
        }
    }

    /// What the browser wrote into its log since it was last asked.
    async fn log(&self) -> Vec<String> {
        let entries = self.client.issue_cmd(Log).await.unwrap();
        let entries = entries.as_array().cloned().unwrap_or_default();
        entries.iter().filter_map(|entry| entry["message"].as_str().map(str::to_string)).collect()
    }

    /// Ends the browser as it wants to be ended.
    pub async fn close(self) {
        self.is_well().await;
        self.client.clone().close().await.unwrap();
    }
}

/// A driver and its port; one that found no port, among many started at once, is started again.
fn driver() -> (Child, u16) {
    const TRIES: usize = 3;
    (0..TRIES).find_map(|_| started()).expect(MISSING)
}

fn started() -> Option<(Child, u16)> {
    let mut child = Command::new("chromedriver")
        .arg("--port=0")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|_| panic!("{MISSING}"));
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let port = lines.find_map(|line| {
        let line = line.ok()?;
        line.split_once("on port ")?.1.trim_end_matches('.').parse().ok().filter(|port| *port != 0)
    });
    // The rest of what it says must not fill the pipe.
    std::thread::spawn(move || lines.for_each(drop));
    if port.is_none() {
        // One that has ended already needs no end.
        let _ = child.kill();
        let _ = child.wait();
    }
    port.map(|port| (child, port))
}

/// A command of the browser's own protocol.
#[derive(Debug)]
struct Own {
    command: String,
    with: Value,
}

impl WebDriverCompatibleCommand for Own {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(json!({ "cmd": self.command, "params": self.with }).to_string()))
    }
}

#[derive(Debug)]
struct Log;

impl WebDriverCompatibleCommand for Log {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/se/log", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(json!({ "type": "browser" }).to_string()))
    }
}
