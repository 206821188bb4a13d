using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Instruments;

/// <summary>What a user says of an instrument; null for what is not said, an empty text for what is to be taken away.</summary>
/// <param name="Port">The address of its port.</param>
/// <param name="Profile">The device profile: a name, or a file.</param>
/// <param name="Baud">Bits per second, where it is set otherwise than its profile says; 0 for the profile's.</param>
/// <param name="DisplayStep">One unit of the last decimal that it shows, in density; 0 for not known.</param>
/// <param name="Filters">Its filters or its status, in the user's words.</param>
public sealed record InstrumentDetails(
    string? Port = null, string? Profile = null, int? Baud = null, double? DisplayStep = null, string? Filters = null,
    string? SerialNumber = null, string? Notes = null)
{
    /// <summary>The instrument with what is said.</summary>
    /// <param name="known">Names a profile so that it is found again.</param>
    internal Instrument Of(Instrument before, Func<string, string> known) => before with
    {
        Port = Port is { Length: > 0 } port ? LinkAddress.Parse(port).ToString() : Port ?? before.Port,
        Profile = Profile is { } profile ? known(profile) : before.Profile,
        Baud = Baud is 0 ? null : Baud ?? before.Baud,
        DisplayStep = DisplayStep is 0 ? null : DisplayStep ?? before.DisplayStep,
        Filters = Filters ?? before.Filters,
        SerialNumber = SerialNumber ?? before.SerialNumber,
        Notes = Notes ?? before.Notes,
    };
}

/// <summary>How a user says which instrument is meant; nothing at all means the only one.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Port">Where it is this once.</param>
/// <param name="Profile">Its device profile.</param>
/// <param name="Baud">Its rate this once.</param>
public sealed record InstrumentChoice(string? Name = null, string? Port = null, string? Profile = null, int? Baud = null);

/// <summary>The instrument that is meant.</summary>
/// <param name="Notice">What the user should know of the choice; null for nothing.</param>
public sealed record ChosenInstrument(InstrumentSetup Setup, string? Notice);

/// <summary>An instrument after a change.</summary>
/// <param name="Warning">What looks wrong about it; null for nothing.</param>
public sealed record ChangedInstrument(Instrument Instrument, string? Warning);
