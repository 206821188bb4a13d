using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Lines;

/// <summary>Random bytes and damaged sample lines through every shipped profile.</summary>
public sealed class NoiseTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 18, 0, 0, TimeSpan.Zero);

    public static TheoryData<string> Names() => ShippedProfiles.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void Noise_never_throws_holds_little_and_loses_no_byte(string name)
    {
        var profile = ShippedProfiles.Get(name);
        Gen.Select(Gen.OneOf(Gen.Byte.Array[0, 600], Damaged(profile)), Gen.Int[1, 64], Gen.Int[0, 400])
            .Sample((bytes, size, pause) => Feed(profile, bytes, size, pause));
    }

    /// <summary>Sample lines in a row with some bytes changed, left out or doubled.</summary>
    private static Gen<byte[]> Damaged(DeviceProfile profile)
    {
        byte[][] lines = [.. profile.Samples.SelectMany(s => s.Lines).Select(l => LineEnvelope.Wrap(l, profile.Framing))];
        var change = Gen.Select(Gen.Int[0, 10_000], Gen.Int[0, 2], Gen.Byte);
        return Gen.Select(Gen.Int[0, lines.Length - 1].Select(i => lines[i]).Array[1, 12], change.Array[0, 8]).Select((chosen, changes) =>
        {
            var bytes = chosen.SelectMany(l => l).ToList();
            foreach (var (where, kind, value) in changes)
            {
                var at = where % Math.Max(bytes.Count, 1);
                switch (kind)
                {
                    case 0 when bytes.Count > 0: bytes[at] = value; break;
                    case 1 when bytes.Count > 0: bytes.RemoveAt(at); break;
                    default: bytes.Insert(at, value); break;
                }
            }

            return bytes.ToArray();
        });
    }

    private static void Feed(DeviceProfile profile, byte[] bytes, int size, int pauseMs)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        var at = Start;
        var frames = new List<LineFrame>();
        foreach (var chunk in bytes.Chunk(size))
        {
            frames.AddRange(framer.Push(chunk, at));
            at += TimeSpan.FromMilliseconds(pauseMs);
        }

        frames.AddRange(framer.Finish());
        Assert.All(frames.Select(interpreter.Interpret), e => Assert.InRange(e.Line.Bytes.Length, 1, profile.Framing.MaxLength));

        // All bytes are there again, in order, but for those that only mark lines and what was too long for a line.
        var mask = profile.Link.MaskTopBit ? 0x7F : 0xFF;
        var sent = Content(bytes.Select(b => (byte)(b & mask)), profile.Framing);
        var kept = Content(frames.SelectMany(f => f.Line.Bytes), profile.Framing);
        if (frames.All(f => f.Fault != FrameFault.TooLong))
        {
            Assert.Equal(Encoding.Latin1.GetString(sent), Encoding.Latin1.GetString(kept));
        }
        else
        {
            // Bytes are left out and nothing else: each that is kept is found behind the one before it.
            var place = 0;
            Assert.All(kept, b => Assert.True((place = Array.IndexOf(sent, b, place) + 1) > 0));
        }
    }

    private static byte[] Content(IEnumerable<byte> bytes, FramingSettings framing) =>
        [.. bytes.Where(b => b is not (0x00 or 0x0A or 0x0C or 0x0D) && b != framing.Start && b != framing.End)];
}
