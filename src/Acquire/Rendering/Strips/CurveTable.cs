namespace Acquire.Rendering.Strips;

/// <summary>The steps of a strip that draws a curve: density and its deviation from aim, step by step. Other strips have no such table.</summary>
internal static class CurveTable
{
    public static void Write(IAnsiConsole console, StripRecord strip)
    {
        if (strip.JudgedBy.LayoutOf(strip.Layout) is not { } layout || layout.Patches.All(p => p is { LogH: null, Role: PatchRole.Judged }))
        {
            return;
        }

        var channels = strip.JudgedBy.ChannelsNeeded;
        var table = Tables.New(["step", "log H", .. channels.Select(c => c.Word())]);
        foreach (var patch in strip.Layout.Patches)
        {
            var logH = layout.Find(patch.Key)?.LogH?.ToString("0.00", CultureInfo.InvariantCulture) ?? "";
            table.Row([patch.Name, logH, .. channels.Select(c => Cell(strip, patch.Key, c))]);
        }

        console.WriteTable(table);
    }

    private static string Cell(StripRecord strip, string patchKey, Channel channel) => (strip.Mean(patchKey, channel), strip.Aim(patchKey, channel)) switch
    {
        (null, _) => "not known",
        ({ } mean, null) => Numbers.Density(mean.Mean),
        ({ } mean, { } aim) => $"{Numbers.Density(mean.Mean)} {Numbers.Deviation(mean.Mean - aim.Value)}",
    };
}
