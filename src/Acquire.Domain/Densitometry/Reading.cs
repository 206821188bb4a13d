using System.Text;

namespace Acquire.Domain.Densitometry;

/// <summary>One measurement of one patch: the densities and the raw lines they came from.</summary>
/// <param name="At">When the last of its lines was received, or when it was entered.</param>
/// <param name="Lines">The lines it came from; empty when it was entered by hand.</param>
public sealed record Reading(ChannelDensities Densities, DateTimeOffset At, ImmutableArray<RawLine> Lines)
{
    /// <summary>Whether a person typed it, so that no raw line stands behind it.</summary>
    public bool IsEntered => Lines.IsDefaultOrEmpty;

    /// <summary>A reading typed by a person.</summary>
    public static Reading Entered(ChannelDensities densities, DateTimeOffset at) => new(densities, at, []);
}

/// <summary>The densities of one measurement, by channel; a channel the instrument does not send is null.</summary>
public sealed record ChannelDensities
{
    /// <exception cref="ImpossibleValueException">No channel has a value.</exception>
    public ChannelDensities(Density? red, Density? green, Density? blue, Density? visual = null)
    {
        Guard.That((red ?? green ?? blue ?? visual) is not null, "A reading needs the density of one channel at least.");
        (Red, Green, Blue, Visual) = (red, green, blue, visual);
    }

    public Density? Red { get; }

    public Density? Green { get; }

    public Density? Blue { get; }

    public Density? Visual { get; }

    public Density? this[Channel channel] => channel switch
    {
        Channel.Red => Red,
        Channel.Green => Green,
        Channel.Blue => Blue,
        Channel.Visual => Visual,
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    /// <summary>The channels that have a value, in the usual order.</summary>
    public ImmutableArray<Channel> Present => [.. Channels.All.Where(c => this[c] is not null)];

    /// <exception cref="ImpossibleValueException">No pair is given, or two of one channel.</exception>
    public static ChannelDensities Of(IEnumerable<KeyValuePair<Channel, Density>> values)
    {
        var pairs = values.ToList();
        // Two values of one channel are two measurements; to take the last would hide the other.
        Guard.Unique(pairs, p => p.Key.Word(), "The channel");
        var byChannel = pairs.ToDictionary();
        Density? Get(Channel c) => byChannel.TryGetValue(c, out var d) ? d : null;
        return new ChannelDensities(Get(Channel.Red), Get(Channel.Green), Get(Channel.Blue), Get(Channel.Visual));
    }

    /// <summary>The three colours from decimal values.</summary>
    public static ChannelDensities Rgb(decimal red, decimal green, decimal blue) =>
        new(new Density(red), new Density(green), new Density(blue));

    /// <summary>For example <c>R 0.26 G 0.62 B 0.80</c>.</summary>
    public override string ToString() => string.Join(' ', Present.Select(c => $"{c.Letter()} {this[c]}"));
}

/// <summary>One line exactly as it was received, without its terminator.</summary>
/// <param name="Bytes">The bytes, top bit masked only where the profile says so.</param>
/// <param name="ReceivedAt">When its last byte arrived.</param>
public sealed record RawLine(ImmutableArray<byte> Bytes, DateTimeOffset ReceivedAt)
{
    /// <summary>The line for the eye, see <see cref="Printable"/>.</summary>
    public string Text => Printable(Bytes.AsSpan());

    /// <summary>Bytes for the eye: printable ASCII as it is, every other byte as <c>\xNN</c>.</summary>
    public static string Printable(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder(bytes.Length);
        foreach (var b in bytes)
        {
            // The backslash is written as a number too, so that every text stands for one row of bytes only.
            _ = b is >= 0x20 and < 0x7F and not (byte)'\\'
                ? text.Append((char)b)
                : text.Append("\\x").Append(b.ToString("X2", CultureInfo.InvariantCulture));
        }

        return text.ToString();
    }

    public static RawLine OfText(string text, DateTimeOffset receivedAt) => new([.. Encoding.Latin1.GetBytes(text)], receivedAt);
}
