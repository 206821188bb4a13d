namespace Acquire.Domain.Densitometry;

/// <summary>The densities of one measurement, by channel; a channel the instrument does not send is null.</summary>
public sealed record ChannelDensities
{
    /// <summary>Makes a set of densities.</summary>
    /// <exception cref="ImpossibleValueException">No channel has a value.</exception>
    public ChannelDensities(Density? red, Density? green, Density? blue, Density? visual = null)
    {
        if (red is null && green is null && blue is null && visual is null)
        {
            throw new ImpossibleValueException("A reading needs the density of one channel at least.");
        }

        (Red, Green, Blue, Visual) = (red, green, blue, visual);
    }

    /// <summary>Red density.</summary>
    public Density? Red { get; }

    /// <summary>Green density.</summary>
    public Density? Green { get; }

    /// <summary>Blue density.</summary>
    public Density? Blue { get; }

    /// <summary>Visual density.</summary>
    public Density? Visual { get; }

    /// <summary>The density of one channel, or null.</summary>
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

    /// <summary>Makes a set from pairs of channel and density.</summary>
    /// <exception cref="ImpossibleValueException">No pair is given, or two of one channel.</exception>
    public static ChannelDensities Of(IEnumerable<KeyValuePair<Channel, Density>> values)
    {
        var pairs = values.ToList();
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
