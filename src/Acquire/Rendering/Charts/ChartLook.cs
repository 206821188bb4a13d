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
