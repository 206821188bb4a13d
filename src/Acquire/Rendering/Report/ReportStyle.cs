namespace Acquire.Rendering.Report;

/// <summary>The style of a report: light or dark as the screen is set, always light on paper, any paper size.</summary>
internal static class ReportStyle
{
    private const string Light = "--paper:#fff;--ink:#1a1a1a;--soft:#555;--line:#bbb;--shade:#f3f1ec;--good:#0b6b3a;--look:#8a5200;--stop:#a8141b;--link:#0b4f9e;";
    private const string Dark = "--paper:#14161a;--ink:#eee;--soft:#b5b5b5;--line:#4a505a;--shade:#1d2128;--good:#6fd39b;--look:#f0b45a;--stop:#ff8f8f;--link:#8fc1ff;";

    public const string Sheet =
        $$"""
        :root { {{Light}} color-scheme: light dark }
        @media (prefers-color-scheme: dark) { :root { {{Dark}} } }
        * { box-sizing: border-box }
        body { font: 15px/1.5 system-ui, "DejaVu Sans", sans-serif; max-width: 62rem; margin: 1.5rem auto; padding: 0 1rem; color: var(--ink); background: var(--paper); overflow-wrap: break-word }
        h1 { font-size: 1.45rem; line-height: 1.25; margin: 0 } h2 { font-size: 1.15rem; margin: 2rem 0 .5rem; border-bottom: 2px solid var(--line); padding-bottom: .2rem } h3 { font-size: 1rem; margin: 1.2rem 0 .3rem }
        p { margin: .4rem 0 } .soft { color: var(--soft) } a { color: var(--link) } nav ul { padding: 0; list-style: none; display: flex; flex-wrap: wrap; gap: .2rem 1rem }
        .verdict { font-size: 1.1rem; font-weight: 600; border: 2px solid; border-left-width: .6rem; padding: .6rem .9rem; margin: 1rem 0 }
        .good { color: var(--good) } .look { color: var(--look) } .stop { color: var(--stop) } td.look, td.stop, b.look, b.stop { font-weight: 600 }
        .table { overflow-x: auto } table { border-collapse: collapse; width: 100%; margin: .4rem 0 .8rem } caption { text-align: left; font-weight: 600; padding: .3rem 0 }
        th, td { text-align: left; padding: .2rem .6rem .2rem 0; border-bottom: 1px solid var(--line); vertical-align: top } th { font-weight: 600 } thead th { border-bottom: 2px solid var(--line) }
        td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap } tbody th { font-weight: 400 }
        .keep { white-space: nowrap } .said { min-width: 13rem }
        .data { font-size: .85rem } .data td, .data th { white-space: nowrap } .data tr:target { background: var(--shade) }
        .box { border: 1px solid var(--line); background: var(--shade); padding: .5rem .9rem } li { margin: .15rem 0 }
        .chart svg { width: 100%; height: auto; display: block } .chart .small-screen { display: none }
        @media (max-width: 600px) { body { padding: 0 .6rem } .chart .small-screen { display: block } .chart .wide-screen { display: none } }
        @page { margin: 14mm; @bottom-right { content: counter(page) " / " counter(pages); font: 9pt sans-serif; color: #555 } }
        @media print {
          :root { {{Light}} color-scheme: light }
          body { font-size: 10pt; margin: 0; padding: 0; max-width: none } nav { display: none } a { color: inherit; text-decoration: none }
          h2, h3, caption { break-after: avoid } tr, li, .box, .verdict { break-inside: avoid } thead { display: table-header-group } .table { overflow: visible }
          .chart .wide-screen { display: block } .chart .small-screen { display: none } .chart svg { max-height: 235mm; break-inside: avoid }
          .data { font-size: 7.5pt } .data td, .data th { padding-right: .35rem }
        }
        """;
}
