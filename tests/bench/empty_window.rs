//! What `start.py` measures the program against: a window of the same toolkit and size, with nothing in it.

fn main() -> eframe::Result {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]),
        renderer: eframe::Renderer::Glow,
        ..Default::default()
    };
    eframe::run_native("flatwright-empty-window", options, Box::new(|_| Ok(Box::new(Nothing))))
}

struct Nothing;

impl eframe::App for Nothing {
    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        egui::CentralPanel::default().show(ui, |_| {});
    }
}
