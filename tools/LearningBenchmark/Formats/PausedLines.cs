using Acquire.Instruments.Captures;

namespace LearningBenchmark.Formats;

/// <summary>Lines as an instrument sends them that ends a line by a pause only,
/// handed over in pieces, with the times they came at.</summary>
internal static class PausedLines
{
    private const int LongestWithin = 30;
    private const int ShortestBetween = 250;
    private const int LongestBetween = 6000;

    /// <summary>An invented format without anything else that ends its lines.</summary>
    public static InventedFormat Without(InventedFormat format) =>
        format with { LineEnd = "", StartAndEnd = false, Flaw = format.Flaw == Flaw.NoLineEnd ? null : format.Flaw };

    public static ImmutableArray<CaptureChunk> Of(IEnumerable<string> lines, FormatWriter writer, Random random)
    {
        var at = DateTimeOffset.UnixEpoch;
        var chunks = ImmutableArray.CreateBuilder<CaptureChunk>();
        foreach (var line in lines.Where(l => l.Length > 0))
        {
            foreach (var piece in writer.Frame([line]).Chunk(random.Next(4, 30)))
            {
                chunks.Add(new CaptureChunk(at, [.. piece]));
                at += TimeSpan.FromMilliseconds(random.Next(LongestWithin));
            }

            at += TimeSpan.FromMilliseconds(random.Next(ShortestBetween, LongestBetween));
        }

        return chunks.ToImmutable();
    }
}
