//! The places of a file that can be switched, found in its syntax tree.

use std::collections::HashMap;
use std::ops::Range;

use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Arm, BinOp, Block, Expr, ExprBinary, ExprStruct, ExprUnary, ItemConst, ItemStatic, Signature};

/// A place whose behaviour depends on a switch.
#[derive(Debug, Clone)]
pub(crate) struct Site {
    /// The bytes it covers.
    pub(crate) whole: Range<usize>,
    pub(crate) kind: Kind,
    /// Where nothing can be asked at run time: the value of a constant, the body of a `const fn`.
    pub(crate) constant: bool,
}

/// The parts of a place, in the order of the text.
#[derive(Debug, Clone)]
pub(crate) enum Kind {
    /// What is between the braces of a function.
    Body,
    /// An operator that evaluates both sides: arithmetic, bits, shifts.
    Arithmetic { left: Range<usize>, operator: Range<usize>, right: Range<usize> },
    /// An operator that compares by reference.
    Comparison { left: Range<usize>, operator: Range<usize>, right: Range<usize> },
    /// `&&` beside a `let` that binds names.
    Chain,
    /// `&&` or `||`; the right side may not be evaluated.
    Logic { left: Range<usize>, operator: Range<usize>, right: Range<usize> },
    /// `+=` and its like.
    Assignment { left: Range<usize>, operator: Range<usize>, right: Range<usize> },
    /// `!` or `-`.
    Prefix { operator: Range<usize>, operand: Range<usize> },
    /// The condition of an arm.
    Guard,
    /// An arm; what it asks beside its pattern, if anything.
    Arm { pattern: Range<usize>, guard: Option<Range<usize>> },
    /// A field of a struct expression with a base.
    Field { member: String, value: Range<usize>, shorthand: bool, base: Range<usize> },
}

/// All places of a file, outer before inner, by the start of what a change of that place covers.
pub(crate) fn sites(text: &str) -> Result<Vec<(usize, Site)>, syn::Error> {
    let file = syn::parse_file(text)?;
    let mut finder = Finder { sites: Vec::new(), constant: false };
    finder.visit_file(&file);
    finder.sites.sort_by_key(|(_, site)| (site.whole.start, std::cmp::Reverse(site.whole.end), rank(&site.kind)));
    Ok(finder.sites)
}

/// The places of `sites` by the kind of change and the start of the changed bytes.
pub(crate) fn by_start(sites: &[(usize, Site)]) -> HashMap<(Family, usize), usize> {
    sites.iter().enumerate().map(|(place, (start, site))| ((family(&site.kind), *start), place)).collect()
}

/// Which changes a place can carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Family {
    Body,
    Binary,
    Prefix,
    Guard,
    Arm,
    Field,
}

fn family(kind: &Kind) -> Family {
    match kind {
        Kind::Body => Family::Body,
        Kind::Arithmetic { .. } | Kind::Comparison { .. } | Kind::Chain | Kind::Logic { .. } | Kind::Assignment { .. } => Family::Binary,
        Kind::Prefix { .. } => Family::Prefix,
        Kind::Guard => Family::Guard,
        Kind::Arm { .. } => Family::Arm,
        Kind::Field { .. } => Family::Field,
    }
}

/// Among places that cover the same bytes, which one is outside.
fn rank(kind: &Kind) -> u8 {
    match kind {
        Kind::Arm { .. } | Kind::Field { .. } => 0,
        Kind::Guard => 1,
        _ => 2,
    }
}

struct Finder {
    sites: Vec<(usize, Site)>,
    constant: bool,
}

impl Finder {
    fn note(&mut self, start: usize, whole: Range<usize>, kind: Kind) {
        self.sites.push((start, Site { whole, kind, constant: self.constant }));
    }

    fn inside_constant(&mut self, constant: bool, visit: impl FnOnce(&mut Self)) {
        let before = std::mem::replace(&mut self.constant, constant);
        visit(self);
        self.constant = before;
    }

    fn body(&mut self, signature: &Signature, block: &Block) {
        self.inside_constant(signature.constness.is_some(), |finder| {
            if let (Some(first), Some(last)) = (block.stmts.first(), block.stmts.last()) {
                let whole = bytes(first).start..bytes(last).end;
                finder.note(whole.start, whole, Kind::Body);
            }
            finder.visit_block(block);
        });
    }
}

impl<'ast> Visit<'ast> for Finder {
    fn visit_item_const(&mut self, item: &'ast ItemConst) {
        self.inside_constant(true, |finder| visit::visit_item_const(finder, item));
    }

    fn visit_impl_item_const(&mut self, item: &'ast syn::ImplItemConst) {
        self.inside_constant(true, |finder| visit::visit_impl_item_const(finder, item));
    }

    fn visit_item_static(&mut self, item: &'ast ItemStatic) {
        self.inside_constant(true, |finder| visit::visit_item_static(finder, item));
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.body(&item.sig, &item.block);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.body(&item.sig, &item.block);
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        if let Some(block) = &item.default {
            self.body(&item.sig, block);
        }
    }

    fn visit_expr_binary(&mut self, binary: &'ast ExprBinary) {
        let (left, operator, right) = (bytes(&binary.left), bytes(&binary.op), bytes(&binary.right));
        let start = operator.start;
        let kind = match binary.op {
            // What binds names is no operator with two values; `||` cannot stand in its place.
            BinOp::And(_) if binds(&binary.left) || binds(&binary.right) => Kind::Chain,
            BinOp::And(_) | BinOp::Or(_) => Kind::Logic { left, operator, right },
            BinOp::Eq(_) | BinOp::Ne(_) | BinOp::Lt(_) | BinOp::Le(_) | BinOp::Gt(_) | BinOp::Ge(_) => Kind::Comparison { left, operator, right },
            BinOp::Add(_)
            | BinOp::Sub(_)
            | BinOp::Mul(_)
            | BinOp::Div(_)
            | BinOp::Rem(_)
            | BinOp::BitAnd(_)
            | BinOp::BitOr(_)
            | BinOp::BitXor(_)
            | BinOp::Shl(_)
            | BinOp::Shr(_) => Kind::Arithmetic { left, operator, right },
            _ => Kind::Assignment { left, operator, right },
        };
        self.note(start, bytes(binary), kind);
        visit::visit_expr_binary(self, binary);
    }

    fn visit_expr_unary(&mut self, unary: &'ast ExprUnary) {
        if !matches!(unary.op, syn::UnOp::Deref(_)) {
            let operator = bytes(&unary.op);
            self.note(operator.start, bytes(unary), Kind::Prefix { operator, operand: bytes(&unary.expr) });
        }
        visit::visit_expr_unary(self, unary);
    }

    fn visit_arm(&mut self, arm: &'ast Arm) {
        let (pattern, guard) = match &arm.pat {
            syn::Pat::Guard(pattern) => (bytes(pattern.pat.as_ref()), Some(bytes(pattern.guard.as_ref()))),
            pattern => (bytes(pattern), None),
        };
        let whole = pattern.start..bytes(arm).end;
        self.note(whole.start, whole, Kind::Arm { pattern, guard: guard.clone() });
        if let Some(guard) = guard {
            self.note(guard.start, guard, Kind::Guard);
        }
        visit::visit_arm(self, arm);
    }

    fn visit_expr_struct(&mut self, expression: &'ast ExprStruct) {
        if let Some(base) = &expression.rest {
            for field in &expression.fields {
                let kind = Kind::Field {
                    member: match &field.member {
                        syn::Member::Named(name) => name.to_string(),
                        syn::Member::Unnamed(index) => index.index.to_string(),
                    },
                    value: bytes(&field.expr),
                    shorthand: field.colon_token.is_none(),
                    base: bytes(base.as_ref()),
                };
                self.note(bytes(field).start, bytes(field), kind);
            }
        }
        visit::visit_expr_struct(self, expression);
    }

    fn visit_expr_repeat(&mut self, repeat: &'ast syn::ExprRepeat) {
        self.visit_expr(&repeat.expr);
        self.inside_constant(true, |finder| finder.visit_expr(&repeat.len));
    }

    fn visit_type_array(&mut self, array: &'ast syn::TypeArray) {
        self.visit_type(&array.elem);
        self.inside_constant(true, |finder| finder.visit_expr(&array.len));
    }
}

fn bytes(node: &impl Spanned) -> Range<usize> {
    node.span().byte_range()
}

fn binds(expression: &Expr) -> bool {
    match expression {
        Expr::Let(_) => true,
        Expr::Binary(binary) if matches!(binary.op, BinOp::And(_)) => binds(&binary.left) || binds(&binary.right),
        _ => false,
    }
}
