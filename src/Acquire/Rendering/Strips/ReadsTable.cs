namespace Acquire.Rendering.Strips;

/// <summary>Every read of a strip, excluded ones with their reason, and the raw line behind it.</summary>
internal static class ReadsTable
{
    public static void Write(IAnsiConsole console, StripRecord strip)
    {
        var channels = Channels.All.Where(c => strip.Patches.SelectMany(p => p.Reads).Any(r => r.Reading.Densities[c] is not null)).ToList();
        var table = Tables.New(["patch", "read", .. channels.Select(c => c.Word()), "counts", "line as received"]);
        foreach (var patch in strip.Patches)
        {
            foreach (var (index, read) in patch.Reads.Index())
            {
                var counts = (patch.LeftOut ?? read.Exclusion) is { } exclusion ? $"no: {exclusion.Reason}" : "yes";
                counts = read.Note is { } note ? $"{counts} ({note})" : counts;
                table.Row(
                [
                    patch.Patch.Name,
                    (index + 1).ToString(CultureInfo.InvariantCulture),
                    .. channels.Select(c => read.Reading.Densities[c]?.ToString() ?? ""),
                    counts,
                    read.Reading.IsEntered ? "entered by hand" : string.Join(" ⏎ ", read.Reading.Lines.Select(l => l.Text)),
                ]);
            }

            if (patch.Reads.IsEmpty && patch.LeftOut is { } leftOut)
            {
                table.Row([patch.Patch.Name, "", .. channels.Select(_ => ""), $"left out: {leftOut.Reason}", ""]);
            }
        }

        console.WriteTable(table);
    }

    /// <summary>The means of a strip that has no aims to be held against.</summary>
    public static void WriteMeans(IAnsiConsole console, StripRecord strip)
    {
        var channels = strip.Means.Select(m => m.Channel).Distinct().Order().ToList();
        var table = Tables.New(["mean density", .. channels.Select(c => c.Word())]);
        foreach (var patch in strip.Patches)
        {
            table.Row([patch.Patch.Name, .. channels.Select(c => strip.Mean(patch.Patch.Key, c) is { } mean ? Numbers.Density(mean.Mean) : "")]);
        }

        console.WriteTable(table);
    }
}
