using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

/// <summary>The shipped profiles as table data.</summary>
internal static class ShippedProfiles
{
    public static ImmutableArray<DeviceProfile> All { get; } = [.. new ProfileLibrary().List().Select(e => e.Profile!)];

    public static TheoryData<string> Names() => [.. All.Select(p => p.Name)];

    public static DeviceProfile Get(string name) => All.Single(p => p.Name == name);
}
