//! Which file of `src/` uses which: every path followed to the file that defines what it names.
//!
//! Re-exports are followed and are no use themselves, nor are `mod` lines; what only tests use is left
//! out. Methods are not seen, only names that stand in the text.

use std::collections::{BTreeMap, BTreeSet};

use crate::tokens::{Token, branches, is};
use crate::{below, module_path, program};

/// Names of names of names deeper than this are not followed.
const DEEPEST: usize = 12;

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Use {
    pub(crate) from: String,
    pub(crate) line: usize,
    pub(crate) to: String,
}

type ModulePath = Vec<String>;

/// A module, inline or a file of its own.
#[derive(Default)]
struct Module {
    /// The file it stands in.
    file: String,
    items: BTreeSet<String>,
    /// What `use` brings in, by the name it has here.
    imports: BTreeMap<String, Vec<Spelled>>,
    globs: Vec<Spelled>,
    /// What else its text names.
    paths: Vec<Spelled>,
}

#[derive(Clone)]
struct Spelled {
    line: usize,
    names: Vec<String>,
    is_re_export: bool,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Target {
    Module(ModulePath),
    /// Anything else that has a name, in this file.
    Item(String),
}

/// Every use of one file by another, in order of file and line.
pub(crate) fn uses(sources: &[(String, String)]) -> Vec<Use> {
    let house = House::read(sources);
    let mut found = BTreeSet::new();
    for (path, module) in &house.0 {
        let imports = module.imports.values().flatten().filter(|import| !import.is_re_export);
        for spelled in imports.chain(&module.paths) {
            // What may be a module or an item is settled where it is used.
            let targets = house.resolve(path, &spelled.names, 0);
            if let [Target::Item(to)] = targets.iter().collect::<Vec<_>>()[..]
                && *to != module.file
            {
                found.insert(Use { from: module.file.clone(), line: spelled.line, to: to.clone() });
            }
        }
    }
    found.into_iter().collect()
}

struct House(BTreeMap<ModulePath, Module>);

impl House {
    fn read(sources: &[(String, String)]) -> Self {
        let mut house = Self(BTreeMap::new());
        for (file, tokens) in program(sources) {
            house.read_file(&file, module_path(&file), &tokens);
        }
        house
    }

    fn read_file(&mut self, file: &str, own: ModulePath, tokens: &[Token]) {
        // A folder is a module even where nobody wrote its `mod.rs`.
        for folder in 0..own.len() {
            self.0.entry(own[..folder].to_vec()).or_default();
        }
        self.module(&own, file);
        // Modules around the place, each with the depth of braces of its body.
        let (mut around, mut braces) = (vec![(own, 0_usize)], 0_usize);
        let mut i = 0;
        while let (Some(token), Some((here, depth))) = (tokens.get(i), around.last().cloned()) {
            let module = self.module(&here, file);
            let next = tokens.get(i + 1).filter(|next| next.is_word()).map(|next| next.text.clone());
            i += 1;
            match (token.text.as_str(), next) {
                ("{", _) => braces += 1,
                ("}", _) => {
                    braces = braces.saturating_sub(1);
                    if braces < depth {
                        around.pop();
                    }
                }
                ("mod", Some(name)) => {
                    if is(tokens, i + 1, "{") {
                        braces += 1;
                        self.module(&below(&here, &name), file);
                        around.push((below(&here, &name), braces));
                        i += 1;
                    }
                    i += 1;
                }
                ("use", Some(_)) => i = module.read_use(tokens, i),
                ("struct" | "enum" | "union" | "trait" | "type" | "const" | "static" | "fn", Some(name)) => {
                    if braces == depth {
                        module.items.insert(name.clone());
                    }
                    // What follows `const` may be `fn`.
                    i += usize::from(name != "fn");
                }
                _ if token.is_word() => i = module.read_path(tokens, i - 1),
                _ => {}
            }
        }
    }

    fn module(&mut self, path: &[String], file: &str) -> &mut Module {
        let module = self.0.entry(path.to_vec()).or_default();
        file.clone_into(&mut module.file);
        module
    }

    /// What `names`, written in `module`, may mean: nothing for what is of another crate.
    fn resolve(&self, module: &[String], names: &[String], depth: usize) -> BTreeSet<Target> {
        let mut found = match names.first().map(String::as_str) {
            _ if depth > DEEPEST => BTreeSet::new(),
            Some("crate") => BTreeSet::from([Target::Module(Vec::new())]),
            Some("self") => BTreeSet::from([Target::Module(module.to_vec())]),
            Some("super") => BTreeSet::from([Target::Module(above(module))]),
            Some(name) => self.named(module, name, depth),
            None => BTreeSet::new(),
        };
        for name in names.iter().skip(1) {
            let has_module = found.iter().any(|target| matches!(target, Target::Module(_)));
            let mut next = BTreeSet::new();
            for target in found {
                match target {
                    Target::Module(path) if name == "super" => _ = next.insert(Target::Module(above(&path))),
                    Target::Module(path) if name == "self" => _ = next.insert(Target::Module(path)),
                    Target::Module(path) => {
                        let named = self.named(&path, name, depth);
                        let file = self.0.get(&path).map(|module| module.file.clone()).filter(|file| !file.is_empty());
                        // Made by a macro there, or nothing that this reader knows.
                        next.extend(if named.is_empty() {
                            file.map(Target::Item).into_iter().collect()
                        } else {
                            named
                        });
                    }
                    // What follows a type is its own.
                    Target::Item(file) if !has_module => _ = next.insert(Target::Item(file)),
                    Target::Item(_) => {}
                }
            }
            found = next;
        }
        found
    }

    /// What `name` may mean in `module`.
    fn named(&self, path: &[String], name: &str, depth: usize) -> BTreeSet<Target> {
        let mut found = BTreeSet::new();
        let Some(module) = self.0.get(path) else { return found };
        if self.0.contains_key(&below(path, name)) {
            found.insert(Target::Module(below(path, name)));
        }
        if module.items.contains(name) {
            found.insert(Target::Item(module.file.clone()));
        }
        for import in module.imports.get(name).into_iter().flatten() {
            found.extend(self.resolve(path, &import.names, depth + 1));
        }
        for glob in module.globs.iter().filter(|_| depth < DEEPEST) {
            for target in self.resolve(path, &glob.names, depth + 1) {
                if let Target::Module(from) = target
                    && from != path
                {
                    found.extend(self.named(&from, name, depth + 1));
                }
            }
        }
        found
    }
}

impl Module {
    /// `i` is just after `use`; gives where its tree ends.
    fn read_use(&mut self, tokens: &[Token], i: usize) -> usize {
        let before = i.checked_sub(2).and_then(|at| tokens.get(at)).map(|token| token.text.as_str());
        let is_re_export = matches!(before, Some("pub" | ")"));
        let mut found = Vec::new();
        let end = branches(tokens, i, &mut Vec::new(), &mut found);
        for branch in found {
            let mut names = branch.path;
            if names.len() > 1 && names.last().is_some_and(|last| last == "self" || last == "*") {
                let is_glob = names.pop().is_some_and(|last| last == "*");
                if is_glob {
                    self.globs.push(Spelled { line: branch.line, names, is_re_export });
                    continue;
                }
            }
            let Some(name) = branch.renamed.or_else(|| names.last().cloned()) else { continue };
            self.imports.entry(name).or_default().push(Spelled { line: branch.line, names, is_re_export });
        }
        end
    }

    /// A path of words at `i`; gives where it ends. A single word that is no type and not called may
    /// be a local variable as well, and is passed over.
    fn read_path(&mut self, tokens: &[Token], mut i: usize) -> usize {
        let is_field = i > 0 && (is(tokens, i - 1, ".") || is(tokens, i - 1, "::"));
        let line = tokens.get(i).map_or(0, |token| token.line);
        let mut names: Vec<String> = Vec::new();
        while let Some(token) = tokens.get(i).filter(|token| token.is_word()) {
            names.push(token.text.clone());
            i += 1;
            if !is(tokens, i, "::") {
                break;
            }
            i += 1;
        }
        let is_type = names.first().is_some_and(|name| name.starts_with(char::is_uppercase));
        if !is_field && (names.len() > 1 || is_type || is(tokens, i, "(")) {
            self.paths.push(Spelled { line, names, is_re_export: false });
        }
        i
    }
}

fn above(path: &[String]) -> ModulePath {
    path.split_last().map(|(_, above)| above.to_vec()).unwrap_or_default()
}
