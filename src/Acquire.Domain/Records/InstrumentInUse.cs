namespace Acquire.Domain.Records;

/// <summary>Which instrument gave the readings, as far as the program knows it.</summary>
/// <param name="Profile">Name of the device profile.</param>
/// <param name="ProfileHash">SHA-256 of the profile's text, hexadecimal, so that a changed profile is told apart.</param>
/// <param name="Port">The port it was read on, as the user named it; <c>file:NAME</c> for readings that came in a file.</param>
public sealed record InstrumentInUse(string Profile, string ProfileHash, string Port);
