namespace Acquire.Rendering.Charts;

/// <summary>How a channel looks on paper and screen. Shape and dash tell it apart without any colour.</summary>
/// <param name="Letter">Its letter.</param>
/// <param name="Word">Its name.</param>
/// <param name="Css">Name of its colour in style sheets.</param>
/// <param name="Colour">Its colour on white, with a contrast of 4.5 to 1 at least.</param>
/// <param name="OnDark">Its colour on black.</param>
/// <param name="Dash">Lengths of dash and gap, in pixels; empty for a solid line.</param>
/// <param name="Shift">How far it is moved aside, in pixels, so that whiskers of one strip do not cover each other.</param>
internal sealed record ChartLook(string Letter, string Word, string Css, string Colour, string OnDark, float[] Dash, int Shift)
{
    /// <summary>How large markers are, 1 for the usual size: smaller where strips stand close.</summary>
    /// <param name="strips">How many strips there are.</param>
    /// <param name="width">Pixels they share.</param>
    public static double MarkerSize(int strips, double width) => Math.Clamp(width / Math.Max(strips, 1) / 6, 0.4, 1);

    public static ChartLook Of(Channel? channel) => channel switch
    {
        Channel.Red => new("R", "red", "red", "#b3261e", "#ff9d94", [], -3),
        Channel.Green => new("G", "green", "green", "#1b6e2d", "#7fd794", [8, 3], 0),
        Channel.Blue => new("B", "blue", "blue", "#1a4fa3", "#94b9ff", [2, 3], 3),
        Channel.Visual => new("V", "visual", "ink", "#333333", "#dddddd", [8, 3, 2, 3], 0),
        _ => new("S", "colour spread", "ink", "#333333", "#dddddd", [], 0),
    };
}

/// <summary>The style sheet inside every SVG: light or dark as the reader's screen is set, always light on paper.</summary>
internal static class SvgStyle
{
    private static readonly string Light =
        "--paper:#fff;--ink:#222;--soft:#5a5a5a;--grid:#e4e4e4;--band:#f4f1ea;--limit:#222;" + Colours(l => l.Colour);
    private static readonly string Dark =
        "--paper:#14161a;--ink:#eee;--soft:#b5b5b5;--grid:#2c3038;--band:#1d2128;--limit:#eee;" + Colours(l => l.OnDark);

    public static string Sheet { get; } =
        $$"""
        <style>
        .acquire-chart { {{Light}} font: 12px "DejaVu Sans", Verdana, system-ui, sans-serif; background: var(--paper) }
        @media (prefers-color-scheme: dark) { .acquire-chart { {{Dark}} } }
        @media print { .acquire-chart { {{Light}} } }
        .acquire-chart text { fill: var(--ink) } .acquire-chart .small { font-size: 11px } .acquire-chart .soft { fill: var(--soft) }
        .acquire-chart .title { font-size: 15px; font-weight: 600 } .acquire-chart .name { font-weight: 600 }
        .acquire-chart .paper { fill: var(--paper) } .acquire-chart .band { fill: var(--band) } .acquire-chart .frame { fill: none; stroke: var(--soft) }
        .acquire-chart .grid { stroke: var(--grid) } .acquire-chart .zero { stroke: var(--soft) }
        .acquire-chart .control { stroke: var(--limit); stroke-width: 1.8 } .acquire-chart .action { stroke: var(--limit); stroke-dasharray: 6 4 }
        .acquire-chart .crossover { stroke: var(--soft); stroke-width: 1.5; stroke-dasharray: 1 3 } .acquire-chart .event { stroke: var(--soft); stroke-dasharray: 7 3 1 3 }
        .acquire-chart .found { stroke: var(--ink); stroke-dasharray: 3 2 } .acquire-chart .tag { fill: var(--paper); stroke: var(--ink) }
        .acquire-chart .line { fill: none; stroke-width: 1.4 } .acquire-chart .whisker { stroke-width: 1; opacity: .6 } .acquire-chart .natural { fill: none; stroke-width: 1.6 }
        .acquire-chart .wide { stroke-width: 1; stroke-dasharray: 1 4 } .acquire-chart .ring { fill: none; stroke: var(--ink); stroke-width: 1.2 } .acquire-chart .wedge { fill: var(--ink) }
        {{Rules()}}
        </style>
        """;

    private static string Colours(Func<ChartLook, string> colour) => string.Concat(
        Channels.Colours.Select(c => ChartLook.Of(c)).Select(l => string.Create(CultureInfo.InvariantCulture, $"--{l.Css}:{colour(l)};")));

    private static string Rules() => string
        .Join('\n', Channels.All.Select(c => ChartLook.Of(c)).Append(ChartLook.Of(null)).DistinctBy(l => (l.Css, l.Dash.Length)).Select(l =>
        string.Create(CultureInfo.InvariantCulture, $".acquire-chart .{l.Css} {{ stroke: var(--{l.Css}) }} .acquire-chart .fill.{l.Css} "
            + $"{{ fill: var(--{l.Css}); stroke: var(--paper); stroke-width: .6 }}")
        + (l.Dash.Length == 0 ? "" : string.Create(
            CultureInfo.InvariantCulture,
            $" .acquire-chart .line.{l.Css}.of-{l.Word} {{ stroke-dasharray: {string.Join(' ', l.Dash)} }}"))));
}
