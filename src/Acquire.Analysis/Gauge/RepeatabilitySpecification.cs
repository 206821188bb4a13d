namespace Acquire.Analysis.Gauge;

/// <summary>The largest true standard deviation σ₀ of one re-placed read that the user accepts, in density.</summary>
public sealed record RepeatabilitySpecification
{
    /// <summary>σ₀ of a channel that has none of its own: 0.010 (common practice, no source).</summary>
    public const double Usual = 0.010;

    private readonly ImmutableDictionary<Channel, double> _byChannel;

    /// <summary>States a specification; channels left out have the usual one.</summary>
    /// <exception cref="GaugeException">A value is not a finite number above 0.</exception>
    public RepeatabilitySpecification(ImmutableDictionary<Channel, double>? byChannel = null)
    {
        _byChannel = byChannel ?? ImmutableDictionary<Channel, double>.Empty;
        if (_byChannel.Values.Any(v => !(v > 0 && double.IsFinite(v))))
        {
            throw new GaugeException("The accepted standard deviation of a read is a number above 0, such as 0.010.");
        }
    }

    /// <summary>0.010 in every channel.</summary>
    public static RepeatabilitySpecification Default { get; } = new();

    /// <summary>The same in every channel.</summary>
    public static RepeatabilitySpecification Same(double sigma) => new(Channels.All.ToImmutableDictionary(c => c, _ => sigma));

    /// <summary>σ₀ in a channel.</summary>
    public double For(Channel channel) => _byChannel.TryGetValue(channel, out var sigma) ? sigma : Usual;
}
