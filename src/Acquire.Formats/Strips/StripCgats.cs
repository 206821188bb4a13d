using System.Text;
using Acquire.Formats.Cgats;
using Acquire.Formats.Csv;

namespace Acquire.Formats.Strips;

/// <summary>Strips as CGATS.17 / ISO 28178 text: a table per strip, a set per read, with the densities by channel.</summary>
public static class StripCgats
{
    internal const string Originator = "Acquire";

    internal const string ExcludedWord = "excluded ";

    internal const string LeftOutWord = "left out ";

    internal static readonly (Channel Channel, string Field)[] Fields =
        [(Channel.Red, "D_RED"), (Channel.Green, "D_GREEN"), (Channel.Blue, "D_BLUE"), (Channel.Visual, "D_VIS")];

    /// <summary>Writes strips one by one and leaves the stream open.</summary>
    public static async Task WriteAsync(IAsyncEnumerable<StripRecord> strips, Stream stream, CancellationToken cancellationToken)
    {
        await using var text = new StreamWriter(stream, Encoding.ASCII, leaveOpen: true);
        var writer = new CgatsWriter(text);
        await foreach (var strip in strips.WithCancellation(cancellationToken))
        {
            await writer.WriteAsync(Table(strip), cancellationToken);
        }
    }

    internal static CgatsTable Table(StripRecord strip)
    {
        var present = strip.Patches.SelectMany(p => p.Reads).SelectMany(r => r.Reading.Densities.Present);
        var channels = strip.JudgedBy.ChannelsNeeded.Concat(present).Distinct().Order().ToImmutableArray();
        var rows = strip.Patches.SelectMany(p => Rows(p, channels)).ToList();
        return new CgatsTable
        {
            Keywords = [.. Header(strip)],
            Fields = ["SAMPLE_ID", "SAMPLE_NAME", .. channels.Select(c => Fields.First(f => f.Channel == c).Field), "STRING", "STRING"],
            Sets = [.. rows.Select((row, i) => new CgatsSet(0, [CellText.Number(i + 1), .. row]))],
        };
    }

    private static IEnumerable<CgatsKeyword> Header(StripRecord strip)
    {
        var instrument = strip.Provenance.Instrument;
        (string Name, string? Value)[] all =
        [
            ("ORIGINATOR", Originator),
            ("FILE_DESCRIPTOR", "Control strips"),
            ("DESCRIPTOR", $"Control strip, {strip.JudgedBy.Name}, lot {strip.LotCode}"),
            ("CREATED", Written.Time(strip.Provenance.At)),
            ("INSTRUMENTATION", instrument?.Profile),
            ("WEIGHTING_FUNCTION",
                $"DENSITY_STATUS,{(strip.JudgedBy.Status == DensityStatus.Visual ? "VISUAL" : strip.JudgedBy.Status.ToString())}"),
            ("STRIP_ID", Written.Id(strip.Id)),
            ("STRIP_REVISION", CellText.Number(strip.Revision.Number)),
            ("LOT_CODE", strip.LotCode),
            ("PROCESS", strip.JudgedBy.Key),
            .. Texts(t => t.IsPlace),
            ("READ_BY", strip.Provenance.By),
            .. Texts(t => !t.IsPlace),
            ("PROFILE_HASH", instrument?.ProfileHash),
            ("PORT", instrument?.Port),
            // Left out where it says no more, so that files of before come out as they were.
            ("INSTRUMENT_NAME", instrument?.Name == instrument?.Profile ? null : instrument?.Name),
        ];
        IEnumerable<(string, string?)> Texts(Func<TextTag, bool> which) =>
            StripTags.InTables.Where(which).Select(t => (t.Keyword!, t.Of(strip.Tags)));
        return all.Where(k => !string.IsNullOrEmpty(k.Value)).Select(k => new CgatsKeyword(k.Name, EscapedText.Of(k.Value)));
    }

    private static IEnumerable<ImmutableArray<string>> Rows(PatchReads patch, ImmutableArray<Channel> channels)
    {
        foreach (var read in patch.Reads)
        {
            yield return Row(patch, channels, read.Reading.Densities, Written.Time(read.Reading.At), Remark(ExcludedWord, read.Exclusion));
        }

        if (patch.Reads.IsEmpty || patch.LeftOut is not null)
        {
            yield return Row(patch, channels, null, "", Remark(LeftOutWord, patch.LeftOut));
        }
    }

    private static ImmutableArray<string> Row(
        PatchReads patch, ImmutableArray<Channel> channels, ChannelDensities? densities, string at, string remark) =>
        [EscapedText.Of(patch.Patch.Key), .. channels.Select(c => Written.Density(densities?[c]) ?? ""), at, EscapedText.Of(remark)];

    private static string Remark(string word, Exclusion? exclusion) =>
        exclusion is null ? "" : $"{word}{Written.Time(exclusion.At)} {exclusion.Reason}";
}
