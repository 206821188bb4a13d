namespace Acquire.Rendering.Strips;

/// <summary>Zones in words. The word carries the meaning; colour only underlines it.</summary>
internal static class ZoneWord
{
    public static string Of(Zone? zone) => zone switch
    {
        Zone.Inside => "inside",
        Zone.Action => "action",
        Zone.Out => "out",
        _ => "no limit",
    };

    public static Style Style(Zone? zone) => zone switch
    {
        Zone.Action => new Style(Color.Yellow, decoration: Decoration.Bold),
        Zone.Out => new Style(Color.Red, decoration: Decoration.Bold),
        _ => Spectre.Console.Style.Plain,
    };
}
