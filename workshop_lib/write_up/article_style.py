"""How does a write-up differ from other pages? Two columns on paper, one on a telephone."""

# Sections flow: no page is forced, no heading, row, step or picture is parted. Laid over the usual
# style, see `html_page`.
ARTICLE = """
body { font-family: Arial, "Liberation Sans", Helvetica, sans-serif; }
figure svg { width: 100% !important; min-width: 0 !important; max-width: 34rem !important; }
table { width: 100%; }
td, th { overflow-wrap: break-word; hyphens: auto; }
h2 + *, h3 + * { break-before: avoid; }
@media screen and (max-width: 36rem) {
  body { padding: .8rem; }
  figure { margin: 1rem -.8rem; } figcaption { margin: 0 .8rem; }
  th, td { font-size: .88rem; padding-right: .4rem; }
  .columns-4 thead { display: none; }
  .columns-4 tr, .columns-4 th, .columns-4 td { display: block; border: 0; padding: 0 0 .1rem; }
  .columns-4 tr { border-bottom: 1px solid #c3c9d0; padding: .3rem 0; }
  .columns-4 td:empty { display: none; }
  .columns-4 td::before { content: attr(data-head) ": "; color: #45505c; }
}
@page { margin: 12mm; }
@media print {
  body { font-size: 8.8pt; line-height: 1.28; }
  main { columns: 2; column-gap: 7mm; }
  h1, .verdict { column-span: all; }
  h1 { font-size: 17pt; margin: 0 0 1mm; } h2 { font-size: 12pt; margin: 3.5mm 0 1.2mm; }
  h3 { font-size: 10pt; margin: 2.5mm 0 1mm; }
  p, ul, ol, table { margin: 1mm 0; orphans: 2; widows: 2; }
  li { margin: .4mm 0; break-inside: avoid; } ol, ul { padding-left: 5mm; }
  th, td { padding: .45mm 2mm .45mm 0; }
  .verdict { margin: 1mm 0 2mm; padding: 1.2mm 3mm; font-size: 10.5pt; }
  .caution { padding: 1mm 2.5mm; break-inside: auto; box-decoration-break: clone;
    -webkit-box-decoration-break: clone; }
  figure, figure:has(.detailed) { display: block; width: auto; margin: 1.5mm 0; }
  figure svg { max-width: none !important; max-height: 5.9cm; }
  figure img { display: block; width: auto; max-height: 7.5cm; }
  .columns-4 { font-size: 7.8pt; } .columns-4 tbody th { width: 27%; }
  .columns-4 td:last-child { font-size: 7pt; }
  .sources { columns: auto; font-size: 6.2pt; line-height: 1.16; padding-left: 3.5mm; }
  footer { font-size: 7pt; margin-top: 2mm; }
}
"""
