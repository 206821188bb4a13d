using System.Collections.Immutable;
using Acquire.Domain.Densitometry;

namespace Acquire.Instruments.Learning;

/// <summary>What a profile is learned from.</summary>
/// <param name="Capture">The bytes as received, or lines of text as received.</param>
/// <param name="Shown">What the display showed for each measurement in the capture, in order.</param>
/// <param name="Channels">The channel of each shown value.</param>
/// <param name="Name">The name of the profile to make: lower-case letters, digits and hyphens.</param>
public sealed record LearningInput(
    ReadOnlyMemory<byte> Capture, ImmutableArray<ShownReading> Shown, ImmutableArray<Channel> Channels, string Name = "learned");
