namespace Acquire.Storage.Import;

/// <summary>Which column of the file is which.</summary>
internal sealed record ReadsHeading(int Columns, int Patch, int Read, int? Placement, IReadOnlyList<(Channel Channel, int Column)> Channels)
{
    public const string Expected = "patch,read,red,green,blue, or patch,read,visual (visual and placement may be there too)";

    public static ReadsHeading Of(string[] cells, FilePlace place)
    {
        var names = cells.Select(c => c.Trim().ToLowerInvariant()).ToList();


        // A black-and-white instrument knows no colours; one colour without the others is a slip.
        var colours = Domain.Densitometry.Channels.Colours.Select(c => c.Word()).ToList();
        string[] needed = ["patch", "read", .. names.Contains(Channel.Visual.Word()) && !names.Any(colours.Contains) ? [] : colours];
        if (needed.Where(n => !names.Contains(n)).ToList() is { Count: > 0 } missing)
        {
            throw place.Wrong(
                $"the heading lacks {string.Join(", ", missing)}; expected {Expected}, found '{FilePlace.Shown(string.Join(',', cells))}'");
        }

        if (names.Where(n => n.Length > 0).GroupBy(n => n).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw place.Wrong($"the heading has '{FilePlace.Shown(twice.Key)}' twice; expected each column once");
        }

        return new ReadsHeading(
            names.Count,
            names.IndexOf("patch"),
            names.IndexOf("read"),
            Column("placement"),
            [.. from channel in Domain.Densitometry.Channels.All
                let column = Column(channel.Word())
                where column is not null
                select (channel, column.Value)]);

        int? Column(string name) => names.IndexOf(name) is >= 0 and var at ? at : null;
    }
}
