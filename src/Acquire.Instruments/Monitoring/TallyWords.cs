namespace Acquire.Instruments.Monitoring;

/// <summary>What a tally of bytes says about the line settings, in words for the user. Hints, not proofs.</summary>
public static class TallyWords
{
    private const int FewBytes = 24;
    private const double MostlyText = 0.95;

    /// <summary>The line ends that were seen, the usual one first.</summary>
    public static string LineEnds(ByteTally tally)
    {
        (string Word, long Count)[] ends =
        [
            ("CR LF", tally.CrLf), ("LF CR", tally.LfCr), ("CR", tally.Cr), ("LF", tally.Lf), ("STX", tally.Stx), ("ETX", tally.Etx),
        ];
        var seen = ends.Where(e => e.Count > 0).OrderByDescending(e => e.Count)
            .Select(e => string.Create(CultureInfo.InvariantCulture, $"{e.Word} {e.Count} times"))
            .ToList();
        return seen.Count == 0 ? "No line end was seen; a pause may end the lines." : $"Line ends: {string.Join(", ", seen)}.";
    }

    /// <summary>What the top bits say about data bits and parity.</summary>
    public static string Parity(ByteTally tally)
    {
        if (tally.Bytes < FewBytes)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{tally.Bytes} bytes are too few to say anything about parity.");
        }

        var share = string.Create(
            CultureInfo.InvariantCulture,
            $"Top bit set in {100.0 * tally.TopBits / tally.Bytes:0} % of the bytes, text in {100.0 * tally.Text / tally.Bytes:0} %: ");
        var isText = tally.Text >= MostlyText * tally.Bytes;
        return share + (isText, tally) switch
        {
            (false, _) => "the rate or the framing is probably wrong. Try another --baud.",
            (_, { TopBits: 0 }) => "the settings fit; no parity bit gets in.",
            (_, var t) when t.TopBits == t.Bytes => "a parity bit that is always 1. Try --data-bits 7 --parity mark.",
            (_, var t) when t.Even == t.Bytes => "the top bit is an even parity bit. Try --data-bits 7 --parity even.",
            (_, var t) when t.Even == 0 => "the top bit is an odd parity bit. Try --data-bits 7 --parity odd.",
            _ => "the top bit is no parity bit; there are characters beyond ASCII, or some bytes are damaged.",
        };
    }
}
