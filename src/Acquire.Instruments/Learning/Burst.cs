using System.Text;
using System.Text.RegularExpressions;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Monitoring;

namespace Acquire.Instruments.Learning;

/// <summary>All that came between two silences: one reading, when the instrument's key was pressed once.</summary>
/// <param name="Chunks">What came, at least one chunk.</param>
/// <param name="IsEndless">Whether it had not ended when it was long enough to tell that it is no reading.</param>
public sealed record Burst(ImmutableArray<CaptureChunk> Chunks, bool IsEndless)
{
    public ImmutableArray<byte> Bytes { get; } = [.. Chunks.SelectMany(c => c.Bytes)];

    /// <summary>The lines for the eye, as <see cref="RawLine.Printable"/> shows them; what
    /// the top bits carry besides the text is left aside.</summary>
    public IEnumerable<string> Lines() =>
        Encoding.Latin1.GetString(TopBits.Plain(Bytes.AsSpan(), TopBits.Of(Bytes.AsSpan()))).Split(
            ['\r', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Select(l => RawLine.Printable(Encoding.Latin1.GetBytes(l)));
}

/// <summary>What a burst says about the line settings.</summary>
internal enum BurstVerdict
{
    Silent,

    /// <summary>The settings are wrong, or it is noise.</summary>
    Garbled,

    /// <summary>Almost text: a byte or two may have been damaged, so that another reading at the same settings will tell.</summary>
    Nearly,

    /// <summary>Text with numbers in it.</summary>
    Clear,
}

/// <summary>How much a burst looks like a reading. The thresholds are common practice, no source.</summary>
/// <param name="Bytes">How many bytes came.</param>
/// <param name="TextShare">The share that is text, 0 … 1, when what the top bits carry is
/// left aside; a top bit without a system makes no text.</param>
/// <param name="HasLineEnd">Whether a line end, or an end character, came.</param>
/// <param name="HasNumber">Whether two digits stand together, or beside a decimal mark.</param>
/// <param name="RepeatsShape">Whether two lines are alike but for their digits.</param>
/// <param name="BareShare">The share that would be text if every top bit were left aside.</param>
/// <param name="TopShare">The share of bytes whose top bits follow the same system: never set, always set, even or odd parity.</param>
internal sealed partial record BurstLook(
    int Bytes, double TextShare, bool HasLineEnd, bool HasNumber, bool RepeatsShape, double BareShare, double TopShare)
{
    private const int FewBytes = 4;
    private const double Text = 0.95;
    private const double TextOfShapes = 0.9;
    private const double Almost = 0.8;

    /// <summary>What it says about the settings.</summary>
    public BurstVerdict Verdict => this switch
    {
        { Bytes: 0 } => BurstVerdict.Silent,
        { HasNumber: true, Bytes: >= FewBytes, TextShare: >= Text } => BurstVerdict.Clear,
        { HasNumber: true, HasLineEnd: true, RepeatsShape: true, TextShare: >= TextOfShapes } => BurstVerdict.Clear,
        { HasNumber: true, Bytes: >= FewBytes, BareShare: >= Almost, TopShare: >= Almost } => BurstVerdict.Nearly,
        _ => BurstVerdict.Garbled,
    };

    public static BurstLook At(ReadOnlySpan<byte> bytes)
    {
        var text = Encoding.Latin1.GetString(TopBits.Plain(bytes, TopBits.Of(bytes)));
        var bare = Encoding.Latin1.GetString(TopBits.Plain(bytes, TopBit.Mark));
        var tally = new ByteTally();
        tally.Add(bytes);
        var shapes = text.Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries).Select(l => Digits().Replace(l, "0")).ToList();
        return new BurstLook(
            bytes.Length, Share(text.Count(IsText), bytes.Length),
            text.AsSpan().ContainsAny("\r\n\x03\x04\x17"),
            Number().IsMatch(bare), shapes.Distinct().Count() < shapes.Count, Share((int)tally.Text, bytes.Length),
            Share((int)Most(tally.TopBits, tally.Even), bytes.Length));

        long Most(params ReadOnlySpan<long> counts)
        {
            var most = 0L;
            foreach (var count in counts)
            {
                most = Math.Max(most, Math.Max(count, tally.Bytes - count));
            }

            return most;
        }
    }

    private static double Share(int part, int of) => of == 0 ? 0 : (double)part / of;

    // NUL is padding, and stands between characters of some; STX, ETX, EOT and ETB frame lines.
    private static bool IsText(char c) =>
        c is (>= ' ' and <= '~') or '\t' or '\r' or '\n' or '\f' or '\0' or '\x02' or '\x03' or '\x04' or '\x17';

    [GeneratedRegex("[0-9]+")]
    private static partial Regex Digits();

    [GeneratedRegex("[0-9][.,]?[0-9]|[.,][0-9]")]
    private static partial Regex Number();
}
