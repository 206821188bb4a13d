using Acquire.Domain.Densitometry;

namespace Acquire.Storage.Import;

/// <summary>Which column of the file is which.</summary>
internal sealed record ReadsHeading(int Patch, int Read, int? Placement, IReadOnlyList<(Channel Channel, int Column)> Channels)
{
    public const string Expected = "patch,read,red,green,blue (visual and placement may be there too)";

    public static ReadsHeading Of(string[] cells, FilePlace place)
    {
        var names = cells.Select(c => c.Trim().ToLowerInvariant()).ToList();
        string[] needed = ["patch", "read", .. Domain.Densitometry.Channels.Colours.Select(c => c.Word())];
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
