namespace Acquire.Web.Api;

/// <summary>Where the data of this service is; no path of a request is ever joined to it.</summary>
internal sealed record DataPlace(string Folder);
